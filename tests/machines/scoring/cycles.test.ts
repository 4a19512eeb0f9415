import { describe, expect, it } from 'vitest';
import type { OpenLine } from '../../../machines/journal.ts';
import { replay } from '../../../machines/replay.ts';
import { rowsOf } from '../../../machines/scoring/report.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** What a cycle is, and which are exact and coordinated. T = 2000 ms: T ÷ 4 = 500, 0.06 T = 120, 0.10 T = 200. */
const begun = (over: Partial<OpenLine> = {}) => new JournalBuilder(over).call(0, 'begin');
const cyclesOf = (journal: JournalBuilder) => journal.report().drill.cycles;
/** Presses of 100 ms, C or V, every 250 ms from 1000 ms. */
const sequence = (pattern: string) => {
  const journal = begun();
  for (const [index, letter] of pattern.split('').entries())
    journal.press(letter === 'C' ? 'chest' : 'airway', 1000 + index * 250, 1100 + index * 250);
  return journal;
};

describe('a cycle', () => {
  it.each([
    ['C', 0, 0],
    ['CCCV', 0, 0], // open when the bout ends: dropped
    ['CCCVC', 1, 1],
    ['CCVC', 1, 0],
    ['CCCCVC', 1, 0],
    ['CVC', 1, 0],
    ['CCCVVC', 1, 0], // two breaths: one cycle, not exact
    ['CCCVVVC', 1, 0],
    ['VVCCCVC', 1, 1], // a breath before the first compression is in no bout
    ['CCCCCCC', 0, 0], // no breath: one open cycle
    ['CCCVCCVCCCVC', 3, 2],
  ])('in %s: %s complete, %s exact', (pattern, total, exact) => {
    expect(cyclesOf(sequence(pattern))).toMatchObject({ total, exact });
  });
  it('counts its presses whether exact or not, the open one’s not', () => {
    // CCV and CCCCVV are complete: 6 compressions and 3 breaths; CC stays open.
    const { compressions, breaths } = sequence('CCVCCCCVVCC').report().drill;
    expect([compressions, breaths]).toEqual([6, 3]);
  });
  it('never goes from one bout to the next', () => {
    // Rest after CCCV: that cycle is dropped, as is the one open at the end.
    const journal = sequence('CCCV').call(2500, 'rest').call(3000, 'resume').ideal(4000, 2);
    expect(cyclesOf(journal)).toEqual({ total: 1, exact: 1, coordinated: 1 });
  });
  it('at equal times goes by the order of lines', () => {
    // Breath and compression both at 2500: the line that comes first is in the cycle before.
    const first = begun().cycle([1000, 1500, 2000], 2500).press('chest', 2500, 2600);
    const last = begun().cycle([1000, 1500, 2000, 2500], 2500).press('chest', 3000, 3200);
    expect([cyclesOf(first), cyclesOf(last)]).toMatchObject([
      { total: 1, exact: 1 },
      { total: 1, exact: 0 },
    ]);
  });
});

/** One cycle by its two intervals, lag and length, in ms; the breath lasts 60 ms. */
type Timing = { one?: number; two?: number; lag?: number; length?: number };
const isCoordinated = (timing: Timing, over: Partial<OpenLine> = {}, scale = 1) => {
  const { one = 500 * scale, two = 500 * scale, lag = 500 * scale, length = 2000 * scale } = timing;
  const third = 1000 + one + two;
  const journal = begun(over);
  for (const on of [1000, 1000 + one, third, 1000 + length]) journal.press('chest', on, on + 100);
  journal.press('airway', third + lag, third + lag + 60);
  return cyclesOf(journal).coordinated === 1;
};
const verdicts = (list: readonly [Timing, boolean][], over: Partial<OpenLine> = {}, scale = 1) => {
  for (const [timing, expected] of list)
    expect([timing, isCoordinated(timing, over, scale)]).toEqual([timing, expected]);
};

describe('a coordinated cycle', () => {
  it('has both intervals within 0.06 T of T ÷ 4: 380 to 620 ms', () => {
    verdicts([
      [{ one: 620 }, true],
      [{ one: 620.001 }, false],
      [{ one: 380 }, true],
      [{ one: 379.999 }, false],
      [{ two: 620 }, true],
      [{ two: 620.001 }, false],
      [{ two: 380 }, true],
      [{ two: 379.999 }, false],
    ]);
  });
  it('lasts T within 0.10 T: 1800 to 2200 ms', () => {
    verdicts([
      [{ length: 2200 }, true],
      [{ length: 2200.001 }, false],
      [{ length: 1800 }, true],
      [{ length: 1799.999 }, false],
    ]);
  });
  it('has its breath 0.6 to 1.4 mean intervals after the third compression', () => {
    // Mean interval 500: 300 to 700. With 420 and 500 it is 460: 276 to 644.
    verdicts([
      [{ lag: 300 }, true],
      [{ lag: 299.999 }, false],
      [{ lag: 700 }, true],
      [{ lag: 700.001 }, false],
      [{ one: 420, lag: 276 }, true],
      [{ one: 420, lag: 275.999 }, false],
      [{ one: 420, lag: 644 }, true],
      [{ one: 420, lag: 644.001 }, false],
    ]);
  });
  it('of first contact may be off by 0.10 T and 0.15 T: 300 to 700 ms, 1700 to 2300 ms', () => {
    verdicts(
      [
        [{ one: 700, lag: 360 }, true], // mean interval 600: lag 360 to 840
        [{ one: 700.001, lag: 361 }, false],
        [{ two: 300 }, true],
        [{ two: 299.999 }, false],
        [{ length: 2300 }, true],
        [{ length: 2300.001 }, false],
        [{ length: 1700 }, true],
        [{ length: 1699.999 }, false],
      ],
      { tolerance: 'first' },
    );
  });
  it('is judged by the tempo: T = 3000 ms, intervals 570 to 930, length 2700 to 3300', () => {
    verdicts(
      [
        [{}, true],
        [{ one: 930 }, true],
        [{ one: 930.001 }, false],
        [{ two: 570 }, true],
        [{ two: 569.999 }, false],
        [{ length: 3300 }, true],
        [{ length: 3300.001 }, false],
        [{ length: 2700 }, true],
        [{ length: 2699.999 }, false],
      ],
      { cycleMs: 3000 },
      1.5,
    );
  });
  it('has three compressions and a breath', () => {
    const four = begun().cycle([1000, 1500, 2000, 2200], 2500).press('chest', 3000, 3200);
    expect(cyclesOf(four)).toEqual({ total: 1, exact: 0, coordinated: 0 });
  });
});

describe('a tempo call', () => {
  it('counts from the next cycle on: T is what it was when the cycle started', () => {
    // Called 1200, inside the first cycle (T 2000, length 2000: good); the next lasts 3000 with T 3000: good too.
    const journal = begun().call(1200, { call: 'tempo', cycleMs: 3000 }).ideal(1000, 1).ideal(3000, 2, 3000);
    expect(cyclesOf(journal)).toEqual({ total: 2, exact: 2, coordinated: 2 });
  });
  it('that slows a bout marks it: it stands in no headline', () => {
    const slowed = (over: Partial<OpenLine>, cycleMs: number) =>
      begun(over).call(1200, { call: 'tempo', cycleMs }).ideal(1000, 3).report().bouts[0]?.slowed;
    expect([slowed({}, 3000), slowed({}, 1900), slowed({ cycleMs: 3000 }, 2000)]).toEqual([
      true,
      false,
      true,
    ]);
  });
});

describe('guidance', () => {
  it('is the one at the cycle’s start; a cycle it changed in is marked', () => {
    // Called 1200 (first cycle), 5000 with the third's first press (the call's line first: before it).
    const journal = begun()
      .call(1200, { call: 'guidance', guidance: 'led' })
      .call(5000, { call: 'guidance', guidance: 'weaned' })
      .ideal(1000, 5)
      .call(7100, { call: 'guidance', guidance: 'led' })
      .call(7200, { call: 'guidance', guidance: 'weaned' });
    const fold = replay(journal.open, journal.lines);
    const rows = fold.tracker.book.bouts.flatMap((bout) => rowsOf(fold, bout));
    expect(rows.map(({ guidance, guidanceChanged }) => [guidance, guidanceChanged])).toEqual([
      ['unled', true],
      ['led', true], // 3000 to 5000: the call comes before the press that ends it
      ['weaned', false],
      ['weaned', true], // there and back
    ]);
  });
  it('called as it was is ignored with a warning, and marks nothing', () => {
    const journal = begun().ideal(1000, 2).call(1200, { call: 'guidance', guidance: 'unled' });
    const fold = replay(journal.open, journal.lines);
    expect(fold.tracker.book.rows.get(0).guidanceChanged).toBe(false);
    expect(fold.warnings).toEqual(['line 5: guidance was ignored: guidance was unled before']);
  });
});
