import { describe, expect, it } from 'vitest';
import { DrillDriver } from '../../machines/drill-driver.ts';
import { DrillFold } from '../../machines/drill-fold.ts';
import { type BodyLine, type CallLine, checkLine } from '../../machines/journal.ts';
import { JournalBuilder, openLine } from '../support/journal-builder.ts';

/**
 * The drill walked as a model: at every point that a few moves lead to, after a first cycle or while the pair ventilates,
 * the chart is held against what the fold says of the same lines, and each call is made and taken back.
 */
type Move = { lines: (at: number) => object[]; lasts: number };

const call = (details: Record<string, unknown>): Move => ({
  lines: (at) => [{ kind: 'call', at, ...details }],
  lasts: 200,
});
const CALLS: Move[] = [
  ...['swap', 'taken', 'check', 'checked', 'rest', 'resume', 'finish'].map((name) => call({ call: name })),
  call({ call: 'technique', technique: 'two-finger' }),
  call({ call: 'stance', stance: 'head-end' }),
  call({ call: 'heart-rate', bpm: 60 }),
  call({ call: 'airway', airway: 'secured' }),
  call({ call: 'guidance', guidance: 'led' }),
  call({ call: 'tempo', cycleMs: 3000 }),
];
const cycle = (compressor: string, ventilator: string): Move => ({
  lines: (at) =>
    [0, 500, 1000, 1500].flatMap((after) => {
      const name = after === 1500 ? ventilator : compressor;
      return [
        { kind: 'edge', at: at + after, switch: name, down: true },
        { kind: 'edge', at: at + after + 150, switch: name, down: false },
      ];
    }),
  lasts: 2000,
});
const WAIT: Move = { lines: (at) => [{ kind: 'note', at, text: '' }], lasts: 1500 };

/** A drill that can be moved on; lines are numbered and timed as they come. */
class Walk {
  readonly driver: DrillDriver;
  readonly fold: DrillFold;
  private at = 100;
  private number = 2;

  constructor(binding: 'place' | 'person', begin: object) {
    const open = openLine({ binding, guidance: 'weaned' });
    this.driver = new DrillDriver(open);
    this.fold = new DrillFold(open);
    this.take({ kind: 'call', at: 0, call: 'begin', ...begin }, true);
  }

  move({ lines, lasts }: Move): this {
    for (const line of lines(this.at)) this.take(line, true);
    this.at += lasts;
    return this;
  }

  /** Makes a call and takes it back at once; true when it could be made. */
  tryOut(move: Move): boolean {
    const [made] = move.lines(this.at);
    const line = this.lineOf(made);
    const canCall = this.driver.canCall(line as CallLine);
    this.take(line, false);
    this.take({ kind: 'call', at: this.at, call: 'undo' }, false);
    return canCall;
  }

  private take(value: object | undefined, isForBoth: boolean): void {
    const one = { number: this.number, line: this.lineOf(value) };
    this.number += 1;
    this.driver.take([one]);
    if (isForBoth) this.fold.take(one);
  }

  private lineOf(value: object | undefined): BodyLine {
    const parsed = checkLine(value);
    if (!parsed.ok) throw new Error(`${parsed.field} ${parsed.problem}`);
    return parsed.line as BodyLine;
  }
}

const STAGES: Record<string, string[]> = {
  idle: ['notBegun'],
  waiting: ['ready', 'ventilating'],
  running: ['compressing'],
  resting: ['resting'],
  checking: ['checking'],
  finished: ['finished'],
};

describe.each([
  { binding: 'place' as const, begin: {}, switches: ['chest', 'airway'] as const },
  { binding: 'place' as const, begin: { stage: 'ventilation' }, switches: ['chest', 'airway'] as const },
  { binding: 'person' as const, begin: {}, switches: ['A', 'B'] as const },
])(
  'every two moves of a drill by $binding, begun with $begin',
  ({ binding, begin, switches: [one, other] }) => {
    const moves = [...CALLS, cycle(one, other), cycle(other, one), WAIT];
    const first = 'stage' in begin ? WAIT : cycle(one, other);
    const walks = (last: readonly Move[], visit: (walk: Walk) => void) => {
      for (const second of moves)
        for (const third of last) visit(new Walk(binding, begin).move(first).move(second).move(third));
    };

    it('lead the chart where they lead the fold', () => {
      const seen = new Set<string>();
      walks(
        moves,
        ({
          driver: { snapshot },
          fold: {
            tracker,
            tracker: { handovers },
          },
        }) => {
          const { stage, handover } = snapshot.value;
          seen.add(`${stage}, ${handover}`);
          expect(STAGES[tracker.phase]).toContain(stage);
          expect(handover).toBe(handovers.at(-1)?.outcome === null ? 'called' : 'none');
          // Before a first compression, and at rest, what was called is the next bout's: the Floor still says "called".
          const { arrangement, called } = snapshot.context;
          expect(tracker.phase === 'running' ? arrangement : called).toEqual(tracker.arrangement);
          if (stage === 'ventilating' || stage === 'checking') expect(snapshot.value.count).toBe('silent');
        },
      );
      expect(seen).toContain('compressing, called');
      expect([...seen].filter((state) => state.endsWith('called'))).toEqual(['compressing, called']);
      expect(seen.has('ventilating, none')).toBe('stage' in begin);
    });

    it('can be followed by any call and its undo, as if neither had been', { timeout: 120_000 }, () => {
      let made = 0;
      walks([cycle(one, other), cycle(other, one), WAIT], (walk) => {
        const { driver } = walk;
        const before = { ...driver.snapshot.context };
        const { value } = driver.snapshot;
        const report = driver.report();
        for (const move of CALLS) {
          if (!walk.tryOut(move)) continue;
          made += 1;
          expect([driver.snapshot.value, driver.snapshot.context]).toEqual([value, before]);
        }
        expect(driver.report()).toEqual(report);
      });
      expect(made).toBeGreaterThan(200);
    });
  },
);

describe('a drill, where two things come together', () => {
  /** Ideal cycles from 1000; the last compression of four is at 8000. */
  const pair = () => new JournalBuilder().call(0, 'begin').ideal(1000, 4);
  const twoFinger = { call: 'technique', technique: 'two-finger' } as const;
  const driven = (journal: JournalBuilder) => {
    const driver = new DrillDriver(journal.open);
    driver.take(journal.lines);
    return driver;
  };
  const standing = (journal: JournalBuilder) => {
    const { snapshot } = driven(journal);
    const { roles, technique } = snapshot.context.arrangement;
    return [snapshot.value.stage, snapshot.value.handover, roles.compressor, technique];
  };
  const outcomes = (journal: JournalBuilder) =>
    driven(journal)
      .report()
      .handovers.map(({ reasons, outcome }) => [reasons.join(' '), outcome]);

  it('joins a call during a handover to it, and both are carried out by one change of hands', () => {
    const journal = pair().call(8300, 'swap').call(8400, twoFinger);
    expect(standing(journal)).toEqual(['compressing', 'called', 'A', 'two-thumb']);
    journal.ideal(10_500, 1);
    expect(standing(journal)).toEqual(['compressing', 'none', 'B', 'two-finger']);
    expect(outcomes(journal)).toEqual([['swap technique', 'taken up']]);
  });
  it.each([
    ['rest', 'resting', 'resume'],
    ['check', 'checking', 'checked'],
  ] as const)('keeps what was called when a %s comes during a handover', (name, stage, end) => {
    const journal = pair().call(8300, 'swap').call(8400, name);
    expect(standing(journal)).toEqual([stage, 'none', 'B', 'two-thumb']);
    journal.call(9000, end).ideal(10_000, 1);
    expect(standing(journal)).toEqual(['compressing', 'none', 'B', 'two-thumb']);
    expect(outcomes(journal)).toEqual([['swap', 'cut short']]);
  });
  it('ends a handover with a finish, and opens it again when that is undone', () => {
    const journal = pair().call(8300, 'swap').call(8400, 'finish');
    expect(standing(journal).slice(0, 2)).toEqual(['finished', 'none']);
    journal.call(60_000, 'undo');
    expect(standing(journal)).toEqual(['compressing', 'called', 'A', 'two-thumb']);
  });
  it('withdraws a swap that is called twice in a second, and counts no handover for the pair', () => {
    const journal = pair().call(8300, 'swap').call(9100, 'swap').ideal(9200, 2);
    expect(standing(journal)).toEqual(['compressing', 'none', 'A', 'two-thumb']);
    expect(outcomes(journal)).toEqual([['swap swap', 'withdrawn']]);
  });
  it('stands as before when a technique was called and no compression came after it', () => {
    const journal = pair().call(8600, twoFinger);
    journal.line({ kind: 'note', at: 60_000, text: 'nobody compressed' });
    expect(standing(journal)).toEqual(['compressing', 'called', 'A', 'two-thumb']);
    journal.call(60_001, 'finish');
    expect(outcomes(journal)).toEqual([['technique', 'cut short']]);
    expect(driven(journal).report().bouts).toHaveLength(1);
  });
  it('does not take a switch that is held as it begins for a compression', () => {
    const journal = new JournalBuilder().down('chest', 100).call(500, 'begin').up('chest', 900);
    journal.line({ kind: 'note', at: 1000, text: 'a release is known with the line after it' });
    expect(driven(journal).snapshot.value).toMatchObject({ stage: 'ready', hands: 'up' });
    journal.ideal(2000, 1);
    expect(
      driven(journal)
        .report()
        .bouts.map(({ startMs }) => startMs),
    ).toEqual([2000]);
  });
  it('does not begin compressions with a switch held as ventilation begins, nor a breath with a bag held', () => {
    const journal = new JournalBuilder().down('chest', 100).down('airway', 200);
    journal.call(500, { call: 'begin', stage: 'ventilation' }).up('chest', 900).up('airway', 950);
    const driver = driven(journal.press('airway', 2000, 2900));
    expect(driver.snapshot.value.stage).toBe('ventilating');
    expect(driver.report().ventilationStage).toMatchObject({ startMs: 2000, breaths: 1 });
  });
  it('goes back to where it was when the check that led back to ventilation is undone', () => {
    const journal = pair()
      .call(9000, 'check')
      .call(9500, { call: 'heart-rate', bpm: 70 })
      .call(10_000, 'checked');
    expect(standing(journal)[0]).toBe('ventilating');
    expect(standing(journal.call(10_500, 'undo'))[0]).toBe('checking');
    expect(standing(journal.call(10_600, 'undo').call(10_700, 'checked'))[0]).toBe('ready');
  });
});
