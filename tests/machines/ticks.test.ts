import { describe, expect, it } from 'vitest';
import type { TickLine } from '../../machines/journal.ts';
import {
  type BoutTicks,
  mayBePraised,
  metOf,
  nextSeen,
  TICK_ITEMS,
  type TickSituation,
  tickPages,
  ticksByBout,
} from '../../machines/ticks.ts';
import { JournalBuilder } from '../support/journal-builder.ts';

const situation = (over: Partial<TickSituation> = {}): TickSituation => ({
  rig: 'manikin',
  technique: 'two-thumb',
  stance: 'foot-end',
  airway: 'mask',
  isBefore: false,
  ...over,
});
const tick = (
  at: number,
  item: string,
  met: boolean | null,
  by: 'instructor' | 'observer' = 'instructor',
): TickLine => ({
  kind: 'tick',
  at,
  item,
  met,
  by,
});

describe('what there is to tick', () => {
  it('is what matters most first, then the rest by technique, airway and stance', () => {
    const most = ['chest-rise', 'full-release', 'depth', 'position', 'counts-aloud'];
    expect(tickPages(situation())).toEqual([
      most,
      ['mask-seal', 'squeeze-length', 'fingers-support', 'firm-surface'],
    ]);
    expect(tickPages(situation({ technique: 'two-finger', airway: 'secured' }))).toEqual([
      most,
      ['squeeze-length', 'firm-surface'],
    ]);
    expect(tickPages(situation({ stance: 'side' }))[1]?.[0]).toBe('firm-surface');
  });
  it('before the first compression is what comes before it', () => {
    expect(tickPages(situation({ isBefore: true }))).toEqual([
      ['chest-rise', 'mask-seal', 'ventilation-corrected', 'airway-secured', 'oxygen-raised'],
      ['squeeze-length'],
    ]);
  });
  it('is at most five at a time, none twice, and all of them somewhere', () => {
    const seen = new Set<string>();
    for (const isBefore of [false, true])
      for (const technique of ['two-thumb', 'two-finger'] as const)
        for (const stance of ['foot-end', 'head-end', 'side'] as const)
          for (const airway of ['mask', 'secured'] as const) {
            const pages = tickPages(situation({ isBefore, technique, stance, airway }));
            const items = pages.flat();
            expect(Math.max(...pages.map((page) => page.length))).toBeLessThanOrEqual(5);
            expect(new Set(items).size).toBe(items.length);
            for (const item of items) seen.add(item);
          }
    expect([...seen].sort()).toEqual([...TICK_ITEMS].sort());
  });
  it('is nothing on a rhythm rig', () => {
    expect(tickPages(situation({ rig: 'rhythm' }))).toEqual([]);
  });
  it('goes round: met, not met, not seen', () => {
    expect([nextSeen(undefined), nextSeen('met'), nextSeen('not met'), nextSeen('not seen')]).toEqual([
      'met',
      'not met',
      'not seen',
      'met',
    ]);
    expect([metOf('met'), metOf('not met'), metOf('not seen')]).toEqual([true, false, null]);
  });
});

describe('a tick', () => {
  const depths = (ticks: TickLine[], ...startsMs: number[]) =>
    ticksByBout(
      ticks,
      startsMs.map((ms) => ms * 1000),
    ).map((bout) => bout.depth?.seen ?? '–');

  it('counts for the bout at its time, else the one before, else the first', () => {
    expect(depths([tick(1500, 'depth', true)], 1000, 9000)).toEqual(['met', '–']);
    expect(depths([tick(500, 'depth', true)], 1000, 9000)).toEqual(['met', '–']);
    expect(depths([tick(90_000, 'depth', true)], 1000, 9000)).toEqual(['–', 'met']);
  });
  it('at the time of a bout’s start is that bout’s, a microsecond before it the old one’s', () => {
    expect(depths([tick(9000, 'depth', true)], 1000, 9000)).toEqual(['–', 'met']);
    expect(depths([tick(8999.999, 'depth', true)], 1000, 9000)).toEqual(['met', '–']);
  });
  it('is taken over by the latest of its item in the same bout', () => {
    const ticks = [
      tick(1500, 'depth', true),
      tick(1600, 'chest-rise', true),
      tick(1700, 'depth', null),
      tick(1800, 'position', false, 'observer'),
      tick(1900, 'position', true, 'observer'),
    ];
    expect(ticksByBout(ticks, [1_000_000])).toEqual([
      {
        depth: { seen: 'not seen', by: 'instructor', atMs: 1700 },
        'chest-rise': { seen: 'met', by: 'instructor', atMs: 1600 },
        position: { seen: 'met', by: 'observer', atMs: 1900 },
      },
    ]);
  });
  it.each([
    ['before', 1400],
    ['after', 1600],
  ])('of an observer, made %s the instructor’s in the same bout, counts for nothing', (_, at) => {
    const ticks = [tick(1500, 'depth', false), tick(at, 'depth', true, 'observer')];
    expect(
      ticksByBout(
        ticks.sort((one, other) => one.at - other.at),
        [1_000_000],
      ),
    ).toEqual([{ depth: { seen: 'not met', by: 'instructor', atMs: 1500 } }]);
  });
  it('of an observer counts in a bout in which the instructor did not tick that', () => {
    const ticks = [tick(1500, 'depth', false), tick(9500, 'depth', true, 'observer')];
    expect(ticksByBout(ticks, [1_000_000, 9_000_000]).map(({ depth }) => depth?.seen)).toEqual([
      'not met',
      'met',
    ]);
  });
  it('without a bout is nowhere', () => {
    expect(ticksByBout([tick(500, 'depth', true)], [])).toEqual([]);
  });
  it('stands in its bout’s report, and in a rhythm rig’s never', () => {
    const drill = (rig: 'manikin' | 'rhythm') =>
      new JournalBuilder({ rig })
        .call(0, 'begin')
        .ideal(1000, 2)
        .line(tick(3000, 'depth', false))
        .report()
        .bouts.map(({ ticks }) => ticks);
    expect(drill('manikin')).toEqual([{ depth: { seen: 'not met', by: 'instructor', atMs: 3000 } }]);
    expect(drill('rhythm')).toEqual([{}]);
  });
});

describe('praise', () => {
  const seen = (over: Record<string, 'met' | 'not met' | 'not seen'>): BoutTicks =>
    Object.fromEntries(
      Object.entries(over).map(([item, what]) => [item, { seen: what, by: 'instructor', atMs: 0 }]),
    );
  const four = { 'chest-rise': 'met', 'full-release': 'met', depth: 'met', position: 'met' } as const;

  it('needs all four: chest rise, release, depth and position', () => {
    expect(mayBePraised(seen(four))).toBe(true);
    expect(mayBePraised(seen({ ...four, 'counts-aloud': 'not met' }))).toBe(true);
    expect(mayBePraised({})).toBe(false);
  });
  it.each(['chest-rise', 'full-release', 'depth', 'position'])(
    'is not given where %s is unmet, unseen or open',
    (item) => {
      const { [item]: _left, ...others } = seen(four);
      expect(mayBePraised(others)).toBe(false);
      expect(mayBePraised(seen({ ...four, [item]: 'not met' }))).toBe(false);
      expect(mayBePraised(seen({ ...four, [item]: 'not seen' }))).toBe(false);
    },
  );
});
