import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Guidance, OpenLine, Person, RigCheck } from '../../../machines/journal.ts';
import { replay } from '../../../machines/replay.ts';
import { type Assessment, assess, type Finding } from '../../../machines/standard/assess.ts';
import { type DrillEvidence, evidenceOf } from '../../../machines/standard/evidence.ts';
import { EXAMPLE_STANDARD, type Standard } from '../../../machines/standard/standard.ts';
import {
  findingSentence,
  lackingSentences,
  leftOutSentence,
  overallWords,
  STANDARD_WORDS,
} from '../../../machines/words/standard-words.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

const NEEDS = ['chest-rise', 'full-release', 'depth', 'position'] as const;
const CYCLE_MS = 2000;

/** A drill under way: stretches one after another, each 1 s after a resume, and a rest behind it. */
const CHECKED: RigCheck = {
  outcome: 'passed',
  at: '2026-03-02T09:00:00Z',
  techniques: ['two-thumb', 'two-finger'],
  stances: ['foot-end', 'head-end', 'side'],
};

class Drill {
  readonly builder: JournalBuilder;
  private at = 0;
  private hasBegun = false;

  constructor(over: Partial<OpenLine> = {}) {
    this.builder = new JournalBuilder({ rig: 'manikin', rigCheck: CHECKED, ...over });
  }

  get now(): number {
    return this.at;
  }

  /** So many complete cycles, and one more that the rest cuts short. */
  stretch(cycles: number, cycleMs = CYCLE_MS): this {
    this.builder.call(this.at, this.hasBegun ? 'resume' : 'begin');
    this.hasBegun = true;
    this.builder.ideal(this.at + 1000, cycles + 1, cycleMs);
    this.at += 1000 + (cycles + 1) * cycleMs;
    this.builder.call(this.at, 'rest');
    return this;
  }

  /** So many cycles, a swap with a pause of 3 s from release to compression, and as many again; each complete. */
  swapped(cycles: number): this {
    this.builder.call(this.at, this.hasBegun ? 'resume' : 'begin');
    this.hasBegun = true;
    this.builder.ideal(this.at + 1000, cycles + 1);
    const called = this.at + 1000 + (cycles + 1) * CYCLE_MS;
    this.builder.call(called, 'swap').ideal(called + 2200, cycles + 1);
    this.at = called + 2200 + (cycles + 1) * CYCLE_MS;
    this.builder.call(this.at, 'rest');
    return this;
  }

  guidance(guidance: Guidance): this {
    this.builder.call(this.at, { call: 'guidance', guidance });
    return this;
  }
  tempo(cycleMs: number): this {
    this.builder.call(this.at, { call: 'tempo', cycleMs });
    return this;
  }
  swap(): this {
    this.builder.call(this.at, 'swap');
    return this;
  }
  tick(item: string, met: boolean | null, by: 'instructor' | 'observer' = 'instructor', at = this.at): this {
    this.builder.line({ kind: 'tick', at, item, met, by });
    return this;
  }
  tickAll(by: 'instructor' | 'observer' = 'instructor'): this {
    for (const item of NEEDS) this.tick(item, true, by);
    return this;
  }

  evidence(): DrillEvidence {
    const { open, lines } = this.builder;
    return evidenceOf(replay(open, lines));
  }
  assess(person: Person, standard: Standard = EXAMPLE_STANDARD): Assessment {
    return assess(standard, [{ person, evidence: this.evidence() }]);
  }
}

/** Ada and Ben, a minute each way and a swap between, everything ticked in both: all that the example asks for. */
function wholeDrill(): Drill {
  const drill = new Drill().swapped(30);
  for (const item of NEEDS) drill.tick(item, true, 'instructor', 30_000);
  return drill.tickAll();
}
function requiring(requires: Standard['requires']): Standard {
  return { ...EXAMPLE_STANDARD, requires };
}
function findingOf(assessment: Assessment, kind: Finding['kind']): Finding | undefined {
  return assessment.findings.find((finding) => finding.kind === kind);
}

describe('a learner held against the course’s standard', () => {
  it('has met it when every requirement is met, in both roles', () => {
    for (const person of ['A', 'B'] as const) {
      const assessment = wholeDrill().assess(person);
      expect([overallWords(assessment), lackingSentences(assessment)]).toEqual(['Example: met', []]);
      expect(assessment.findings).toHaveLength(21);
    }
  });

  it('is told what is lacking, and in which role', () => {
    const drill = new Drill()
      .stretch(20)
      .tick('depth', false)
      .tick('full-release', null)
      .tick('position', true, 'observer');
    const assessment = drill.assess('A');
    expect(assessment.overall).toBe('not yet');
    expect(lackingSentences(assessment)).toEqual([
      'Unled, compressing: 0:40, at least 0:50: not yet, 0:10 lacking',
      'Unled, ventilating: 0:00, at least 0:50: not yet, 0:50 lacking',
      'Unled swap: not yet, no unled swap was taken up',
      'Coordinated cycles, ventilating: at least 70 %: not assessed, no unled cycle',
      'Compressions a minute, ventilating: 80 to 100: not assessed, no unled cycle',
      'Breaths a minute, ventilating: 26 to 34: not assessed, no unled cycle',
      'Cycle jitter, ventilating: at most 150 ms: not assessed, no unled cycle',
      'Clashes, ventilating: at most 2: not assessed, no unled cycle',
      'Longest pause, ventilating: at most 3 s: not assessed, no unled cycle',
      'Longest handover pause: at most 5 s: not assessed, no unled handover was taken up',
      'Chest rises, ventilating: not assessed, the instructor did not tick it in an unled stretch',
      'Full release, compressing: not assessed, the instructor did not see it',
      'Depth about one third, compressing: not yet',
      'Thumb position, compressing: not assessed, only an observer ticked it',
    ]);
  });

  it('is not assessed, rather than not yet, when nothing is amiss but something was not looked at', () => {
    const standard = requiring({ unledSeconds: { compressor: 30 }, ticks: ['depth', 'full-release'] });
    const drill = new Drill().stretch(20).tick('depth', true);
    expect(drill.assess('A', standard).overall).toBe('not assessed');
    expect(drill.tick('full-release', true).assess('A', standard).overall).toBe('met');
  });

  it('shows a tick in the role it belongs to: the other’s depth is not theirs', () => {
    const drill = new Drill().stretch(20).tickAll();
    const ticks = requiring({ ticks: [...NEEDS] });
    const statuses = (person: Person) => drill.assess(person, ticks).findings.map(({ status }) => status);
    expect(statuses('A')).toEqual(['not assessed', 'met', 'met', 'met']);
    expect(statuses('B')).toEqual(['met', 'not assessed', 'not assessed', 'not assessed']);
  });

  it('has the instructor’s last word: not met after met is not yet, and a later “not seen” takes nothing back', () => {
    const depth = requiring({ ticks: ['depth'] });
    const drill = new Drill().stretch(20).tick('depth', true).stretch(20);
    const status = (met: boolean | null) => {
      const again = new Drill().stretch(20).tick('depth', true).stretch(20).tick('depth', met);
      return again.assess('A', depth).overall;
    };
    expect([drill.assess('A', depth).overall, status(true), status(false), status(null)]).toEqual([
      'met',
      'met',
      'not yet',
      'met',
    ]);
  });

  it('may bring several drills, and each counts once', () => {
    const minute = requiring({ unledSeconds: { compressor: 60 } });
    const held = (cycles: number) => ({
      person: 'A' as const,
      evidence: new Drill().stretch(cycles).evidence(),
    });
    expect(assess(minute, [held(20)]).overall).toBe('not yet');
    expect(findingOf(assess(minute, [held(20), held(15)]), 'unled seconds')).toEqual({
      kind: 'unled seconds',
      role: 'compressor',
      leastMs: 60_000,
      foundMs: 70_000,
      status: 'met',
    });
  });

  it('cannot be told to have swapped where the swap left no gap', () => {
    const drill = new Drill();
    drill.builder.call(0, 'begin').ideal(1000, 30).call(21_000, 'swap').call(61_000, 'finish');
    const swap = findingOf(drill.assess('A', requiring({ swap: true })), 'swap');
    expect(swap).toEqual({ kind: 'swap', status: 'not assessed', why: 'seamless' });
  });

  it('is held against the longest handover pause', () => {
    const drill = new Drill().swapped(10);
    const most = (ms: number) =>
      drill.assess('A', requiring({ timing: { 'handovers.pauseMs': { most: ms } } }));
    // The last old compression is let up 800 ms before the swap is called, the first new comes 2200 ms after.
    expect(findingOf(most(3000), 'handover pause')).toEqual({
      kind: 'handover pause',
      mostMs: 3000,
      foundMs: 3000,
      count: 1,
      status: 'met',
    });
    expect(most(2999).overall).toBe('not yet');
  });
});

it('the tool says met, not yet or not assessed, and never that anybody passed or failed', () => {
  const words = [
    ...Object.values(STANDARD_WORDS).map((words) =>
      typeof words === 'string' ? words : words('Ada', 'because'),
    ),
    ...[wholeDrill(), new Drill({ guidance: 'led' }).stretch(3)].flatMap((drill) =>
      drill.assess('A').findings.map(findingSentence),
    ),
  ];
  expect(words.length).toBeGreaterThan(40);
  for (const sentence of words) expect(sentence).not.toMatch(/pass|fail/i);
});

describe('a figure and its ±', () => {
  /** Of every four cycles one has its breath too late: three of four are coordinated. */
  function mixed(cycles: number): Drill {
    const drill = new Drill();
    drill.builder.call(0, 'begin');
    for (let cycle = 0; cycle <= cycles; cycle += 1) {
      const at = 1000 + cycle * CYCLE_MS;
      drill.builder.cycle([at, at + 500, at + 1000], at + (cycle % 4 === 3 ? 1750 : 1500));
    }
    drill.builder.call(1000 + (cycles + 1) * CYCLE_MS, 'finish');
    return drill;
  }
  const share = (drill: Drill, least: number) => {
    const standard = requiring({ unledSeconds: { compressor: 1 }, timing: { coordinatedShare: { least } } });
    return findingOf(drill.assess('A', standard), 'figure');
  };

  it('is met when all of it is within the limit, not yet when all of it is outside, and else too little to say', () => {
    const drill = mixed(40);
    expect(share(drill, 0.75)).toMatchObject({ found: 0.75, status: 'not yet', why: 'too little to say' });
    expect(share(drill, 0.5)).toMatchObject({ status: 'met', why: null });
    expect(share(drill, 0.95)).toMatchObject({ status: 'not yet', why: 'outside' });
  });

  it('is too little to say from under 20 cycles, however good they are, and from 20 alike by the rule of three', () => {
    expect(share(new Drill().stretch(19), 0.5)).toMatchObject({
      found: 1,
      plusMinus: null,
      why: 'too little to say',
    });
    expect(share(new Drill().stretch(20), 0.85)).toMatchObject({ found: 1, plusMinus: 0.15, status: 'met' });
    expect(share(new Drill().stretch(20), 0.86)).toMatchObject({
      status: 'not yet',
      why: 'too little to say',
    });
  });

  it('is by the usual tolerance also in a drill of first contact', () => {
    const first = new Drill({ tolerance: 'first' });
    first.builder.call(0, 'begin').ideal(1000, 31, 2240).call(80_000, 'finish');
    expect(share(first, 0.5)).toMatchObject({ found: 0 });
  });
});

describe('what never counts', () => {
  const EMPTY = { missed: 0, otherRig: 0, slowed: 0, otherTempo: 0, guided: 0 };

  it.each([
    [
      'led',
      new Drill({ guidance: 'led' }),
      { ...EMPTY, guided: 20 },
      'Not counted: 20 cycles with a count, or weaned.',
    ],
    ['weaned, the silent cycles too', new Drill({ guidance: 'weaned' }), { ...EMPTY, guided: 20 }, undefined],
    [
      'slowed',
      new Drill({ cycleMs: 4000 }),
      { ...EMPTY, slowed: 20 },
      'Not counted: 20 cycles in slowed stretches.',
    ],
    ['faster than the guideline', new Drill({ cycleMs: 1800 }), { ...EMPTY, otherTempo: 20 }, undefined],
    [
      'with a technique that the rig was not checked with',
      new Drill({
        technique: 'two-finger',
        rigCheck: {
          outcome: 'passed',
          at: '2026-03-02T09:00:00Z',
          techniques: ['two-thumb'],
          stances: ['foot-end'],
        },
      }),
      { ...EMPTY, otherRig: 20 },
      undefined,
    ],
  ])('is %s', (_what, drill, leftOut, words) => {
    const evidence = drill.stretch(20, drill.builder.open.cycleMs).tickAll().evidence();
    expect([evidence.leftOut, evidence.stretches, evidence.ticks]).toEqual([leftOut, [], []]);
    if (words !== undefined) expect(leftOutSentence(evidence)).toBe(words);
    const assessment = drill.assess('A');
    expect(assessment.findings.map(({ status }) => status)).not.toContain('met');
  });

  it('is a rhythm rig’s drill, whatever is in it', () => {
    const drill = new Drill({ rig: 'rhythm' }).swapped(30).tickAll();
    const assessment = drill.assess('A');
    expect(assessment.findings.map(({ status }) => status)).not.toContain('met');
    expect(leftOutSentence(drill.evidence())).toBe(
      'A drill on a rhythm rig: nothing of it counts for a standard.',
    );
  });

  it('is an unled cycle in which a count was given after all', () => {
    const drill = new Drill();
    drill.builder.line({
      kind: 'count',
      at: 500,
      what: 'given',
      by: 'sound',
      fromMs: 1000,
      beat: 'one',
      cycleMs: 2000,
      outputLatencyMs: 10,
      errorMs: 0.1,
    });
    expect(drill.stretch(20).evidence().leftOut.guided).toBe(20);
  });

  it('is any led or slowed stretch beside the others: it changes no assessment', () => {
    const extra = fc.record({
      kind: fc.constantFrom('led', 'weaned', 'slowed'),
      cycles: fc.integer({ min: 1, max: 25 }),
      ticks: fc.array(fc.tuple(fc.constantFrom(...NEEDS), fc.constantFrom(true, false, null)), {
        maxLength: 4,
      }),
    });
    const stretches = fc.array(
      fc.record({ cycles: fc.integer({ min: 1, max: 25 }), isSwapped: fc.boolean() }),
      {
        minLength: 1,
        maxLength: 3,
      },
    );
    fc.assert(
      fc.property(
        stretches,
        fc.array(fc.option(extra, { nil: null }), { maxLength: 4 }),
        (counting, extras) => {
          const build = (isWith: boolean) => {
            const drill = new Drill();
            const add = (at: number) => {
              const more = isWith ? extras[at] : null;
              if (more === null || more === undefined) return;
              const isSlow = more.kind === 'slowed';
              if (isSlow) drill.tempo(4000);
              else drill.guidance(more.kind === 'led' ? 'led' : 'weaned');
              drill.stretch(more.cycles, isSlow ? 4000 : CYCLE_MS);
              for (const [item, met] of more.ticks) drill.tick(item, met);
              if (isSlow) drill.tempo(CYCLE_MS);
              else drill.guidance('unled');
            };
            for (const [at, { cycles, isSwapped }] of counting.entries()) {
              add(at);
              if (isSwapped) drill.swapped(cycles);
              else drill.stretch(cycles);
              drill.tickAll();
            }
            add(counting.length);
            return drill;
          };
          for (const person of ['A', 'B'] as const)
            expect(build(true).assess(person)).toEqual(build(false).assess(person));
        },
      ),
      { numRuns: 40 },
    );
  });

  it('is an observer’s tick: it never turns anything to met, and takes nothing back', () => {
    const ticks = fc.array(
      fc.record({
        item: fc.constantFrom(...NEEDS),
        met: fc.constantFrom(true, false, null),
        by: fc.constantFrom('instructor' as const, 'observer' as const),
        at: fc.integer({ min: 0, max: 60_000 }),
      }),
      { maxLength: 12 },
    );
    const standard = requiring({ ticks: [...NEEDS] });
    const statuses = (drill: Drill, person: Person) =>
      drill.assess(person, standard).findings.map(({ status }) => status);
    fc.assert(
      fc.property(ticks, (all) => {
        const both = new Drill().swapped(12);
        const instructors = new Drill().swapped(12);
        for (const { item, met, by, at } of all) {
          both.tick(item, met, by, at);
          if (by === 'instructor') instructors.tick(item, met, by, at);
        }
        for (const person of ['A', 'B'] as const)
          expect(statuses(both, person)).toEqual(statuses(instructors, person));
      }),
      { numRuns: 100 },
    );
  });
});

it('takes a manikin rig for met only where it was checked that day', () => {
  const rigOf = (drill: Drill) =>
    drill
      .stretch(3)
      .assess('A')
      .findings.find(({ kind }) => kind === 'rig')?.status;
  expect(rigOf(new Drill())).toBe('met');
  const builder = new Drill();
  Object.assign(builder.builder.open, { rigCheck: undefined });
  expect(rigOf(builder)).toBe('not assessed');
});

it('says met on no unchecked manikin, also for a standard that does not ask for a checked one', () => {
  const asked: Standard = { ...EXAMPLE_STANDARD, requires: { unledSeconds: { compressor: 30 } } };
  const unchecked = new Drill();
  Object.assign(unchecked.builder.open, { rigCheck: undefined });
  const overalls = [new Drill(), unchecked].map(
    (drill) => assess(asked, [{ person: 'A', evidence: drill.stretch(20).evidence() }]).overall,
  );
  expect(overalls).toEqual(['met', 'not assessed']);
});
