import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/**
 * Swaps with `person` binding, T = 2000 ms (0.4 T = 800, 0.5 T = 1000). A compresses ideal cycles from 1000 ms; after
 * six cycles A's last compression is at 12 000 (let up 12 200) and B's last breath at 12 500.
 */
const start = () => new JournalBuilder({ binding: 'person' }).call(0, 'begin');
const old = () => start().ideal(1000, 6, 2000, 'A', 'B');
/** The same without the breath at 12 500: it is still owed. */
const owing = () => start().ideal(1000, 5, 2000, 'A', 'B').cycle([11_000, 11_500, 12_000], null, 'A', 'B');
const handoverOf = (journal: JournalBuilder) => journal.report().handovers[0];
/** B compresses from a time on: ideal cycles, A giving the breath. */
const taking = (journal: JournalBuilder, at: number, cycles = 2) => journal.ideal(at, cycles, 2000, 'B', 'A');
/** Presses of 100 ms. */
const taps = (journal: JournalBuilder, name: 'A' | 'B', ...onsets: number[]) => {
  for (const on of onsets) journal.press(name, on, on + 100);
  return journal;
};

describe('a swap between two who each keep a switch', () => {
  it('has every figure', () => {
    // Called 12 300. B's 12 500 is the breath owed (first since 12 000, 500 ≤ 1000). First new 14 000 (next 14 500);
    // last old 12 000. Pause 14 000 − 12 200; breaths 12 500 → 15 500; lost (2000 − 1000) ÷ 2000.
    const report = taking(old().call(12_300, 'swap'), 14_000, 6).report();
    expect(report.handovers).toEqual([
      {
        reasons: ['swap'],
        outcome: 'taken up',
        calledMs: 12_300,
        lastOldMs: 12_000,
        firstNewMs: 14_000,
        pauseMs: 1800,
        resumeMs: 1700,
        breathGapMs: 3000,
        cyclesLost: 0.5,
        firstCycleRight: true,
        before5: 5,
        after5: 5,
        settleMs: 0,
        strays: 0,
      },
    ]);
    expect(report.bouts.map(({ startMs, roles }) => [startMs, roles])).toEqual([
      [1000, { compressor: 'A', ventilator: 'B' }],
      [14_000, { compressor: 'B', ventilator: 'A' }],
    ]);
    expect(report.bouts.map(({ cycles }) => cycles)).toEqual([
      { total: 5, exact: 5, coordinated: 5 },
      { total: 5, exact: 5, coordinated: 5 },
    ]);
  });
  it('has no pause when the old hands let go after the new began', () => {
    // A's compression at 12 000 is held until 14 500; B's first new is 14 000.
    const journal = start().ideal(1000, 5, 2000, 'A', 'B').cycle([11_000, 11_500], null, 'A', 'B');
    taking(journal.press('A', 12_000, 14_500).call(12_300, 'swap'), 14_000);
    expect(handoverOf(journal)).toMatchObject({ lastOldMs: 12_000, firstNewMs: 14_000, pauseMs: 0 });
  });
  it('says nothing new to `taken`: the switches show who compresses', () => {
    const report = taking(old().call(12_300, 'swap').call(13_900, 'taken'), 14_000).report();
    // Open, begin, 48 edges of six cycles, swap: the `taken` line is the 52nd.
    expect(report.warnings).toContain(
      'line 52: taken was ignored: each keeps a switch: the switches say who compresses',
    );
    expect(report.handovers[0]?.firstNewMs).toBe(14_000);
  });
});

describe('the breath still owed', () => {
  it.each([
    [13_000, 13_500], // 1000 = 0.5 T after 12 000: owed, so the next press is first new
    [13_000.001, 13_000.001], // not owed: first new itself
  ])('at %s ms makes first new %s ms', (at, firstNewMs) => {
    const journal = taps(owing().call(12_300, 'swap'), 'B', at, 13_500, 14_000, 14_500);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'taken up', firstNewMs, lastOldMs: 12_000 });
  });
  it('is owed only once', () => {
    // 12 500 was it; 12 900 is B's second press since 12 000, and followed by 13 400.
    const journal = taps(old().call(12_600, 'swap'), 'B', 12_900, 13_400);
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 12_900, lastOldMs: 12_000 });
  });
  it('is owed again after another old compression', () => {
    // Called inside the triplet: 11 500 and 12 000 follow ≤ 800 ms after another of A's; B's 12 500 is owed.
    const journal = taking(old().call(11_200, 'swap'), 14_000);
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 14_000, lastOldMs: 12_000, resumeMs: 2800 });
  });
  it('is not owed by someone whose stray came since: strays are presses', () => {
    // First swap: B from 14 000; A goes on (14 100, 14 600, 15 100: strays). Called back at 15 200: A's 15 600 is
    // not the first since B's 15 000, so it is no breath owed but, followed by 16 100, first new.
    const journal = taps(old().call(12_300, 'swap'), 'B', 14_000, 14_500, 15_000);
    taps(journal, 'A', 14_100, 14_600, 15_100).call(15_200, 'swap');
    taps(journal, 'A', 15_600, 16_100);
    expect(journal.report().handovers.map(({ firstNewMs, strays }) => [firstNewMs, strays])).toEqual([
      [14_000, 3],
      [15_600, 0],
    ]);
  });
});

describe('an old compression', () => {
  it.each([
    [12_800, 12_800], // 800 = 0.4 T after 12 000
    [12_800.001, 12_000], // alone, after the call: no compression
  ])('of A at %s ms after the call makes last old %s ms', (at, lastOldMs) => {
    const journal = taps(old().call(12_300, 'swap'), 'A', at);
    expect(handoverOf(taking(journal, 14_000))).toMatchObject({ lastOldMs, firstNewMs: 14_000 });
  });
  it('may be alone before the call', () => {
    const journal = taps(old(), 'A', 13_500).call(13_600, 'swap');
    expect(handoverOf(taking(journal, 15_000))).toMatchObject({ lastOldMs: 13_500, firstNewMs: 15_000 });
  });
  it('is the last one before first new, though A went on', () => {
    // A's 14 100 and 14 600 come after first new: strays.
    const journal = taps(old().call(12_300, 'swap'), 'A', 14_100, 14_600);
    expect(handoverOf(taps(journal, 'B', 14_000, 14_500, 15_000))).toMatchObject({
      lastOldMs: 12_000,
      strays: 2,
    });
  });
});

describe('first new', () => {
  it.each([
    [13_900, 13_100], // 800 = 0.4 T later
    [13_900.001, 13_900.001], // 13 100 stayed alone: a breath of the old bout
  ])('when B presses at 13 100 and %s ms is %s ms', (next, firstNewMs) => {
    const journal = taps(old().call(12_600, 'swap'), 'B', 13_100, next, next + 500);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'taken up', firstNewMs });
  });
  it('that stayed alone is the old bout’s last breath', () => {
    // Breaths 13 100 (B, old) and 15 500 (A, new): 2400 apart.
    const journal = taking(taps(old().call(12_600, 'swap'), 'B', 13_100), 14_000);
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 14_000, breathGapMs: 2400 });
  });
  it('comes after the call: not at its very time', () => {
    const journal = taps(old().call(13_100, 'swap'), 'B', 13_100, 13_600, 14_100);
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 13_600 });
  });
  it.each([
    [42_599.999, 'taken up', 'B'],
    [42_600, 'never taken up', 'A'], // 12 600 + 30 000
  ])('at %s ms, called at 12 600: %s', (at, outcome, compressor) => {
    const journal = taps(old().call(12_600, 'swap'), 'B', at, at + 500);
    const report = taps(journal, 'A', 45_000, 45_500).call(50_000, 'rest').call(51_000, 'resume').report();
    expect(report.handovers[0]?.outcome).toBe(outcome);
    expect(report.bouts.at(-1)?.roles.compressor).toBe(compressor);
  });
  it('may have its next press after the 30 s', () => {
    const journal = taps(old().call(12_600, 'swap'), 'B', 42_500, 43_300);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'taken up', firstNewMs: 42_500 });
  });
  it('never comes: 30 s pass, then a rest finds nothing to cut short', () => {
    const journal = old().call(12_600, 'swap').call(42_600, 'rest');
    expect(handoverOf(journal)?.outcome).toBe('never taken up');
    expect(handoverOf(old().call(12_600, 'swap').call(42_599.999, 'rest'))?.outcome).toBe('cut short');
  });
  it('with a call before its next press is not it: the call joins and asks again', () => {
    // 14 000 is followed by 14 500, but technique is called at 14 200: 14 500 (next 15 000) is first new.
    const journal = taking(old().call(12_300, 'swap'), 14_000);
    journal.call(14_200, { call: 'technique', technique: 'two-finger' });
    const { handovers, bouts } = journal.report();
    expect(handovers).toHaveLength(1);
    expect(handovers[0]).toMatchObject({
      reasons: ['swap', 'technique'],
      calledMs: 12_300,
      lastOldMs: 12_000,
      firstNewMs: 14_500,
    });
    expect(bouts[1]).toMatchObject({ roles: { compressor: 'B' }, technique: 'two-finger' });
  });
});

describe('strays', () => {
  const strays = (journal: JournalBuilder) => handoverOf(taps(journal, 'B', 14_000, 14_500, 15_000))?.strays;
  const swapped = () => old().call(12_300, 'swap');

  it.each([
    [[14_100, 14_900], 2], // 800 = 0.4 T apart: both
    [[14_100, 14_900.001], 0], // each alone: the first is A's first breath
    [[14_100, 14_600, 15_100, 16_500], 3], // then one alone
    [[14_100, 14_600, 16_500, 17_000], 4], // 16 500 is not alone either: 17 000 is near
  ])('of A at %j ms', (onsets, count) => {
    expect(strays(taps(swapped(), 'A', ...onsets))).toBe(count);
  });
  it('can follow a press before first new', () => {
    // 13 900 stands alone before first new (no compression); 14 500 is 600 ms after it: a stray.
    expect(strays(taps(swapped(), 'A', 13_900, 14_500))).toBe(1);
  });
  it('end with the first press alone: what comes then is breaths, near or not', () => {
    // 15 500 is alone (16 400 is 900 away); 16 400 and 16 900 are near each other, and breaths all the same.
    expect(strays(taps(swapped(), 'A', 15_500, 16_400, 16_900))).toBe(0);
  });
  it('are not scored', () => {
    // New bout: B 14 000, 14 500, 15 000, A's breath 15 500 and one cycle more: A's 14 100 and 14 400 count nowhere.
    const { bouts, drill } = taps(taking(swapped(), 14_000), 'A', 14_100, 14_400).report();
    expect(bouts[1]?.cycles).toEqual({ total: 1, exact: 1, coordinated: 1 });
    // 18 + 6 compressions and 6 + 2 breaths, in 1000 … 17 900 (last release: A's breath 17 500 + 400).
    expect(drill.attempt).toEqual({
      ms: 16_900,
      compressionsPerMin: (24 * 60_000) / 16_900,
      breathsPerMin: (8 * 60_000) / 16_900,
    });
  });
  it('are near or not by the tempo at the later press', () => {
    // A's 13 000 is 1000 ms after 12 000: over 0.4 T = 800. T = 3000 only from 13 100 on, before B's 13 700 settles
    // that 12 950 was first new.
    const journal = taps(taps(swapped(), 'A', 13_000), 'B', 12_950, 13_700);
    journal.call(13_100, { call: 'tempo', cycleMs: 3000 });
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 12_950, strays: 0 });
  });
  it('are presses also to a swap back that joins an open technique call', () => {
    // A's 14 700 and 15 100 are strays, 15 100 after B's 15 000. Called back at 15 600: A's 15 900 is not the first
    // since 15 000, so it is no breath owed; 16 300 follows.
    const journal = taps(taps(swapped(), 'B', 14_000, 14_500, 15_000), 'A', 14_700, 15_100, 15_900, 16_300);
    journal.call(14_600, { call: 'technique', technique: 'two-finger' }).call(15_600, 'swap');
    expect(journal.report().handovers).toMatchObject([
      { firstNewMs: 14_000, strays: 2 },
      { reasons: ['technique', 'swap'], firstNewMs: 15_900, lastOldMs: 15_000 },
    ]);
  });
  it('go on when a technique is called among them', () => {
    const journal = taps(swapped(), 'A', 14_100, 14_600, 15_100);
    journal.call(14_700, { call: 'technique', technique: 'two-finger' });
    expect(strays(journal)).toBe(3);
  });
});

describe('a technique call', () => {
  it('looks for a gap in the compressor’s own presses', () => {
    // A: 12 000 → 14 000, 2000 > 1300. B's presses between do not matter; B still gives the breath.
    const journal = taps(old(), 'B', 13_000, 13_300).call(12_300, {
      call: 'technique',
      technique: 'two-finger',
    });
    const report = journal.ideal(14_000, 2, 2000, 'A', 'B').report();
    expect(report.handovers[0]).toMatchObject({
      outcome: 'taken up',
      lastOldMs: 12_000,
      firstNewMs: 14_000,
      strays: { value: null, reason: 'only seen when each keeps a switch and the roles change' },
    });
    expect(report.bouts[1]).toMatchObject({ roles: { compressor: 'A' }, technique: 'two-finger' });
  });
});
