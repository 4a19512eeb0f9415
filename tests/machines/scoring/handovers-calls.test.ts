import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Handovers by what is called: joins, withdrawals, what cuts them short, and what the next bout is. T = 2000 ms. */
const pair = (cycles = 15) => new JournalBuilder().call(0, 'begin').ideal(1000, cycles);
const outline = (journal: JournalBuilder) =>
  journal.report().handovers.map(({ reasons, calledMs, outcome }) => [reasons.join(' '), calledMs, outcome]);
const arrangements = (journal: JournalBuilder) =>
  journal.report().bouts.map(({ roles, technique, stance }) => `${roles.compressor} ${technique} ${stance}`);
const twoFinger = { call: 'technique', technique: 'two-finger' } as const;
const twoThumb = { call: 'technique', technique: 'two-thumb' } as const;
const headEnd = { call: 'stance', stance: 'head-end' } as const;

describe('a technique or stance call', () => {
  it.each([
    [twoFinger, 'A two-finger foot-end'],
    [headEnd, 'A two-thumb head-end'],
    [{ call: 'swap' } as const, 'B two-thumb foot-end'],
  ])('%o changes the bout that begins at its first new', (call, after) => {
    const journal = pair(6).call(12_300, call).ideal(14_000, 2);
    expect(outline(journal)).toEqual([[call.call, 12_300, 'taken up']]);
    expect(arrangements(journal)).toEqual(['A two-thumb foot-end', after]);
  });
  it('that changes nothing is ignored with a warning', () => {
    const report = pair(6).call(12_300, twoThumb).report();
    expect(report.handovers).toEqual([]);
    // Open, begin, five cycles of eight edges and three compressions of two: lines 1 to 48.
    expect(report.warnings).toContain('line 49: technique was ignored: it changed nothing');
  });
  it('changes nothing either when it was called a moment before', () => {
    const journal = pair(6).call(12_300, twoFinger).call(12_400, twoFinger).ideal(14_000, 2);
    expect(outline(journal)).toEqual([['technique', 12_300, 'taken up']]);
  });
});

describe('a call that joins an open handover', () => {
  it('adds its reason, in order, and keeps the first call’s time', () => {
    const journal = pair(6)
      .call(12_300, 'swap')
      .call(12_600, twoFinger)
      .call(12_900, headEnd)
      .ideal(14_000, 2);
    expect(outline(journal)).toEqual([['swap technique stance', 12_300, 'taken up']]);
    expect(arrangements(journal)[1]).toBe('B two-finger head-end');
    // Resume counts from the first call: 14 000 − 12 300.
    expect(journal.report().handovers[0]?.resumeMs).toBe(1700);
  });
  it('starts the search again: the first cycle start after it, 10 s from it', () => {
    // Called 5300 and 7300: start 9000; c = 17 500 ≥ 17 300, so known at 18 000.
    const late = pair().call(5300, 'swap').call(7300, twoFinger).call(18_000.001, 'finish');
    expect(late.report().handovers[0]).toMatchObject({
      outcome: 'seamless',
      firstNewMs: 9000,
      lastOldMs: 8000,
    });
    const early = pair().call(5300, 'swap').call(7300, twoFinger).call(17_999, 'finish');
    expect(outline(early)).toEqual([['swap technique', 5300, 'cut short']]);
  });
  it('forgets a `taken` that nobody followed', () => {
    // taken at 12 700 would have had 13 000 as first new; the technique call at 12 800 asks again: no gap comes.
    const journal = pair(9).call(12_600, 'swap').call(12_700, 'taken').call(12_800, twoFinger);
    expect(outline(journal)).toEqual([['swap technique', 12_600, 'cut short']]);
  });
  it('does not join one that is settled', () => {
    const journal = pair(6).call(12_300, 'swap').ideal(14_000, 6).call(25_200, twoFinger).ideal(27_000, 1);
    expect(outline(journal)).toEqual([
      ['swap', 12_300, 'taken up'],
      ['technique', 25_200, 'taken up'],
    ]);
    expect(arrangements(journal)[2]).toBe('B two-finger foot-end');
  });
  it('leaves what does not cancel out', () => {
    const journal = pair(6)
      .call(12_300, 'swap')
      .call(12_500, twoFinger)
      .call(12_700, 'swap')
      .ideal(14_000, 2);
    expect(outline(journal)).toEqual([['swap technique swap', 12_300, 'taken up']]);
    expect(arrangements(journal)[1]).toBe('A two-finger foot-end');
  });
});

describe('calls that cancel out', () => {
  it.each([
    [{ call: 'swap' } as const, { call: 'swap' } as const],
    [twoFinger, twoThumb],
    [headEnd, { call: 'stance', stance: 'foot-end' } as const],
  ])('are withdrawn: %o, %o', (there, back) => {
    const journal = pair(6).call(12_300, there).call(12_600, back).ideal(14_000, 2);
    const { handovers } = journal.report();
    expect(outline(journal)).toEqual([[`${there.call} ${back.call}`, 12_300, 'withdrawn']]);
    expect(handovers[0]?.pauseMs).toEqual({ value: null, reason: 'withdrawn' });
    expect(arrangements(journal)).toEqual(['A two-thumb foot-end']);
  });
  it('cost the bout nothing', () => {
    // Ideal cycles from 1000 to the open one from 29 000: fourteen complete.
    const report = pair().call(12_300, 'swap').call(12_600, 'swap').report();
    expect(report.drill.cycles).toEqual({ total: 14, exact: 14, coordinated: 14 });
  });
});

describe('a handover cut short', () => {
  it.each([
    ['rest', 'resume'],
    ['check', 'checked'],
  ] as const)('by %s gives the next bout what was called', (away, back) => {
    const journal = pair(6).call(12_300, 'swap').call(12_600, twoFinger).call(13_000, away);
    journal.call(20_000, back).ideal(21_000, 2);
    expect(outline(journal)).toEqual([['swap technique', 12_300, 'cut short']]);
    expect(arrangements(journal)).toEqual(['A two-thumb foot-end', 'B two-finger foot-end']);
    expect(journal.report().handovers[0]?.firstNewMs).toEqual({ value: null, reason: 'cut short' });
  });
  it('by finish', () => {
    expect(outline(pair(6).call(12_300, 'swap').call(13_000, 'finish'))).toEqual([
      ['swap', 12_300, 'cut short'],
    ]);
  });
  it('by the journal’s end', () => {
    expect(outline(pair(6).call(12_300, 'swap'))).toEqual([['swap', 12_300, 'cut short']]);
  });
  it('scores every press up to it in the old bout', () => {
    // Rest at 13 600, right after the compressions 13 000 and 13 500: the cycle from 11 000 is complete at 13 000.
    const report = pair().call(12_300, 'swap').call(13_600, 'rest').report();
    expect(report.bouts.map(({ cycles, endMs }) => [cycles.total, endMs])).toEqual([[6, 13_600]]);
    // 7 starts: 6 × 3 + 2 compressions and 6 breaths in 12 600 ms.
    expect(report.drill.attempt).toEqual({
      ms: 12_600,
      compressionsPerMin: (20 * 60_000) / 12_600,
      breathsPerMin: (6 * 60_000) / 12_600,
    });
  });
});

describe('swap, technique and stance outside a bout', () => {
  const calls = (journal: JournalBuilder, at: number) =>
    journal.call(at, 'swap').call(at, twoFinger).call(at, headEnd);
  const changed = 'B two-finger head-end';

  it('before begin change the first bout', () => {
    const journal = calls(new JournalBuilder(), 0).call(100, 'begin').ideal(1000, 2);
    expect([outline(journal), arrangements(journal)]).toEqual([[], [changed]]);
  });
  it('between begin and the first compression change the first bout', () => {
    const journal = calls(new JournalBuilder().call(0, 'begin'), 500).ideal(1000, 2);
    expect([outline(journal), arrangements(journal)]).toEqual([[], [changed]]);
  });
  it.each([
    ['rest', 'resume'],
    ['check', 'checked'],
  ] as const)('during %s, and after it until the first compression, change the next bout', (away, back) => {
    const inside = calls(pair(6).call(13_000, away), 14_000).call(15_000, back).ideal(16_000, 2);
    const after = calls(pair(6).call(13_000, away).call(14_000, back), 15_000).ideal(16_000, 2);
    for (const journal of [inside, after])
      expect([outline(journal), arrangements(journal)]).toEqual([[], ['A two-thumb foot-end', changed]]);
  });
  it('after finish are ignored with a warning', () => {
    const report = pair(1).call(4000, 'finish').call(4100, 'swap').report();
    expect(report.warnings).toContain(
      'line 12: swap was ignored: swap cannot follow while the drill is finished',
    );
  });
});
