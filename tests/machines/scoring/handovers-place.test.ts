import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/**
 * Handovers with `place` binding, T = 2000 ms. The old pair runs ideal cycles from 1000 ms: compressions at
 * 1000, 1500, 2000 (200 ms each) and a breath at 2500 (400 ms), every 2000 ms. After six cycles the last
 * compression is at 12 000 (let up at 12 200), the last breath at 12 500; five cycles are complete.
 */
const oldPair = () => new JournalBuilder().call(0, 'begin').ideal(1000, 6);
/** Nobody stops: cycles up to the one from 29 000. */
const seamless = () => new JournalBuilder().call(0, 'begin').ideal(1000, 15);
const handoverOf = (journal: JournalBuilder) => journal.report().handovers[0];
const noFigures = (reason: string) => {
  const none = { value: null, reason };
  return {
    lastOldMs: none,
    firstNewMs: none,
    pauseMs: none,
    resumeMs: none,
    breathGapMs: none,
    cyclesLost: none,
    firstCycleRight: none,
    before5: none,
    after5: none,
    settleMs: none,
    strays: none,
  };
};

describe('a swap taken up by a gap', () => {
  it('has every figure', () => {
    // last old 12 000, first new 14 000 (gap 2000 > 0.65 T = 1300). Pause 14 000 − 12 200; resume 14 000 − 12 300;
    // breaths 12 500 and 15 500; cycles lost (2000 − 1000) ÷ 2000; five good cycles either side, settled at once.
    const report = oldPair().call(12_300, 'swap').ideal(14_000, 6).report();
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
        strays: { value: null, reason: 'only seen when each keeps a switch and the roles change' },
      },
    ]);
    // The old bout ends at first new. The new one's last release is the breath's at 14 000 + 5 × 2000 + 1500 + 400.
    expect(report.bouts.map(({ startMs, endMs, roles }) => [startMs, endMs, roles.compressor])).toEqual([
      [1000, 14_000, 'A'],
      [14_000, 25_900, 'B'],
    ]);
    // The cycle open at the handover is dropped on both sides: 5 + 5 of 12.
    expect(report.bouts.map(({ cycles }) => cycles.total)).toEqual([5, 5]);
  });

  it.each([
    [13_300, 'cut short'], // 13 300 − 12 000 = 1300 = 0.65 T: no gap
    [13_300.001, 'taken up'],
  ])('when the next compression is at %s ms: %s', (at, outcome) => {
    const journal = oldPair()
      .call(12_300, 'swap')
      .cycle([at, at + 500, at + 1000], at + 1500);
    expect(handoverOf(journal)?.outcome).toBe(outcome);
  });

  it('looks only at compressions after the call, in order of lines', () => {
    const gap = () => new JournalBuilder().call(0, 'begin').cycle([1000], null);
    // The same time; the line of the call before or after that of the press.
    const before = gap().call(4000, 'swap').cycle([4000], null);
    const after = gap().cycle([4000], null).call(4000, 'swap');
    expect([handoverOf(before)?.outcome, handoverOf(after)?.outcome]).toEqual(['taken up', 'cut short']);
  });

  it('has no cycles lost and no pause under 0 when the new hands come early', () => {
    // taken at 12 600 → 12 900 is first new: gap 900 − 1000 < 0, so 0 lost; pause 12 900 − 12 200 = 700.
    const journal = oldPair().call(12_300, 'swap').call(12_600, 'taken').cycle([12_900, 13_400], null);
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 12_900, cyclesLost: 0, pauseMs: 700 });
  });

  it('counts the wait in cycles of the tempo in force', () => {
    // T = 4000 from 12 400: gap 5000 > 2600; lost (5000 − 2000) ÷ 4000 = 0.75.
    const journal = oldPair()
      .call(12_300, 'swap')
      .call(12_400, { call: 'tempo', cycleMs: 4000 })
      .ideal(17_000, 1, 4000);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'taken up', cyclesLost: 0.75 });
  });
});

describe('figures of the new bout', () => {
  it('are right or not by its first cycle, and settle at the first three coordinated in a row', () => {
    // New cycles from 14 000: two good, one of two compressions, then four good from 20 000; the last stays open.
    const journal = oldPair()
      .call(12_300, 'swap')
      .ideal(14_000, 2)
      .cycle([18_000, 18_500], 19_500)
      .ideal(20_000, 4);
    // First five: good good bad good good → 4. Three in a row from 20 000: 6000 after first new.
    expect(handoverOf(journal)).toMatchObject({ firstCycleRight: true, after5: 4, settleMs: 6000 });
  });
  it('are null under five cycles, without a breath, and when it never settles', () => {
    const journal = oldPair().call(12_300, 'swap').cycle([14_000, 14_500, 15_000], null);
    expect(handoverOf(journal)).toMatchObject({
      breathGapMs: { value: null, reason: 'no breath on one side' },
      firstCycleRight: { value: null, reason: 'no complete cycle after it' },
      after5: { value: null, reason: 'under five cycles after it' },
      settleMs: { value: null, reason: 'not settled' },
    });
  });
  it('count the last five cycles before it', () => {
    // Complete: a bad one from 1000 (two compressions), then six good ones from 3000. The last five: 5.
    const journal = new JournalBuilder()
      .call(0, 'begin')
      .cycle([1000, 1500], 2500)
      .ideal(3000, 7)
      .call(16_300, 'swap');
    const early = journal.ideal(18_000, 1);
    expect(handoverOf(early)?.before5).toBe(5);
  });
  it('are not settled by two cycles and a bout’s end', () => {
    const journal = oldPair().call(12_300, 'swap').ideal(14_000, 3);
    expect(handoverOf(journal)?.settleMs).toEqual({ value: null, reason: 'not settled' });
  });
});

describe('a swap with `taken` called', () => {
  it.each([
    [12_600, 13_000, 12_000], // before any new compression: the next one
    [13_250, 13_000, 12_000], // 250 ms after it
    [13_300, 13_000, 12_000], // exactly 300 ms after it
    [13_300.001, 13_500, 13_000], // over 300 ms: the next one
    [13_301, 13_500, 13_000],
    [13_600, 13_500, 13_000],
  ])('at %s ms has its first new at %s and last old at %s ms', (at, firstNewMs, lastOldMs) => {
    const journal = seamless().call(12_300, 'swap').call(at, 'taken');
    expect(handoverOf(journal)).toMatchObject({ outcome: 'taken up', firstNewMs, lastOldMs });
  });
  it('takes no compression before the call', () => {
    // 13 000 is within 300 ms of `taken`, but before the swap: 13 500.
    const journal = seamless().call(13_100, 'swap').call(13_200, 'taken');
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 13_500, lastOldMs: 13_000 });
  });
  it('takes the first of two within 300 ms', () => {
    const journal = oldPair()
      .call(12_300, 'swap')
      .cycle([13_000], null)
      .press('chest', 13_210, 13_250)
      .call(13_290, 'taken');
    expect(handoverOf(journal)).toMatchObject({ firstNewMs: 13_000, lastOldMs: 12_000 });
  });
  it('scores what came since first new in the new bout', () => {
    // First new 13 000, breath 14 500: nothing of the cycle from 13 000 is lost.
    const report = seamless().call(12_300, 'swap').call(13_250, 'taken').report();
    expect(report.bouts[1]).toMatchObject({
      startMs: 13_000,
      cycles: { total: 8, exact: 8, coordinated: 8 },
    });
    expect(report.handovers[0]).toMatchObject({ breathGapMs: 2000, cyclesLost: 0, pauseMs: 800 });
  });
  it('is nothing when no handover is open', () => {
    // Open, begin and two cycles of eight edges: lines 1 to 18.
    expect(oldPair().call(4950, 'taken').report().warnings).toContain(
      'line 19: taken was ignored: no handover was open',
    );
  });
});

describe('a swap without a gap', () => {
  it('is seamless from the first cycle start after the call', () => {
    // Called 5300: first start after it 7000, the compression before that 6000 (let up 6200), breath 6500 → 8500.
    // Rows before: cycles from 1000 and 3000 (the one from 5000 is dropped). After: 7000 … 27 000, eleven.
    const report = seamless().call(5300, 'swap').report();
    expect(report.handovers).toEqual([
      {
        reasons: ['swap'],
        outcome: 'seamless',
        calledMs: 5300,
        lastOldMs: 6000,
        firstNewMs: 7000,
        pauseMs: 800,
        resumeMs: 1700,
        breathGapMs: 2000,
        cyclesLost: 0,
        firstCycleRight: true,
        before5: { value: null, reason: 'under five cycles before it' },
        after5: 5,
        settleMs: 0,
        strays: { value: null, reason: 'only seen when each keeps a switch and the roles change' },
      },
    ]);
    expect(
      report.bouts.map(({ startMs, endMs, roles, cycles }) => [
        startMs,
        endMs,
        roles.compressor,
        cycles.total,
      ]),
    ).toEqual([
      [1000, 7000, 'A', 2],
      [7000, 30_900, 'B', 11],
    ]);
  });
  it.each([
    [5500, 16_000, 'seamless'], // c = 15 500 = t + 10 000: known at the next compression, 16 000
    [5500, 15_999, 'cut short'],
    [5500.001, 16_000, 'cut short'], // c = 15 500 < t + 10 000
    [5500.001, 17_000, 'seamless'],
  ])('called at %s ms and finished just after %s ms is %s', (at, finish, outcome) => {
    const journal = seamless()
      .call(at, 'swap')
      .call(finish + 0.001, 'finish');
    expect(handoverOf(journal)?.outcome).toBe(outcome);
  });
  it('is taken up all the same when the gap begins inside 10 s', () => {
    // Last compression 12 000 < 5000 + 10 000; first new 20 000.
    const journal = oldPair().call(5000, 'swap').ideal(20_000, 1);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'taken up', lastOldMs: 12_000, firstNewMs: 20_000 });
  });
  it('is seamless when the gap begins later', () => {
    // Called 1900: c = 12 000 ≥ 11 900. First start after the call: 3000.
    const journal = oldPair().call(1900, 'swap').ideal(20_000, 1);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'seamless', lastOldMs: 2000, firstNewMs: 3000 });
  });
  it('starts its bout at the tempo of its first new, though it is known only later', () => {
    // First new 7000 at T = 2000; 3000 from 9000 on.
    const report = seamless().call(5300, 'swap').call(9000, { call: 'tempo', cycleMs: 3000 }).report();
    expect(report.bouts.map(({ startMs, idealCycleMs, slowed }) => [startMs, idealCycleMs, slowed])).toEqual([
      [1000, 2000, false],
      [7000, 2000, true],
    ]);
  });
  it('can have its first new at the compression that settles it', () => {
    // Compressions every 500 ms to 11 500 without a breath, one at 11 750, c′ = 12 000: c = 11 500 ≥ 11 200.
    const journal = new JournalBuilder().call(0, 'begin').call(1200, 'swap');
    for (let at = 1000; at <= 12_000; at += 500) journal.press('chest', at, at + 200);
    journal.press('airway', 11_750, 11_950);
    expect(handoverOf(journal)).toMatchObject({ outcome: 'seamless', lastOldMs: 11_500, firstNewMs: 12_000 });
  });
  it('is never taken up when no cycle started, and voids the call', () => {
    const journal = new JournalBuilder().call(0, 'begin').call(1200, 'swap');
    for (let at = 1000; at <= 12_000; at += 500) journal.press('chest', at, at + 200);
    const { handovers, bouts } = journal.ideal(12_500, 2).call(20_000, 'rest').report();
    expect(handovers).toEqual([
      { reasons: ['swap'], outcome: 'never taken up', calledMs: 1200, ...noFigures('never taken up') },
    ]);
    expect(bouts.map(({ roles }) => roles.compressor)).toEqual(['A']);
  });
});
