import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Undo: as if neither line were there. Ideal cycles from 1000 ms, T = 2000 ms; the last compression of six is at 12 000. */
const pair = (cycles = 6) => new JournalBuilder().call(0, 'begin').ideal(1000, cycles);
const twoFinger = { call: 'technique', technique: 'two-finger' } as const;
const figuresOf = (journal: JournalBuilder) => {
  const { drill, bouts, handovers, checks, warnings } = journal.report();
  return { drill, bouts, handovers, checks, warnings };
};
const ignored = (journal: JournalBuilder) =>
  journal.report().warnings.filter((warning) => warning.includes('was ignored'));
const outline = (journal: JournalBuilder) =>
  journal.report().handovers.map(({ reasons, outcome }) => [reasons.join(' '), outcome]);

describe('undo', () => {
  it('leaves the report as if neither line were there', () => {
    expect(figuresOf(pair().call(12_300, 'swap').call(12_900, 'undo').ideal(14_000, 3))).toEqual(
      figuresOf(pair().ideal(14_000, 3)),
    );
  });
  it.each([
    [17_300, []], // 5 s after the swap
    [17_300.001, [['swap', 'cut short']]],
  ])('at %s ms, of a swap called at 12 300', (at, left) => {
    const journal = pair().call(12_300, 'swap').call(at, 'undo');
    expect(outline(journal)).toEqual(left);
    expect(ignored(journal)).toHaveLength(left.length);
  });
  it('of a handover already taken up joins the bouts again', () => {
    // Taken up at 14 000, taken back at 16 000: one bout; the cycle from 11 000 is complete at 14 000, inexact in length.
    const report = pair().call(12_300, 'swap').ideal(14_000, 3).call(16_000, 'undo').report();
    expect(report.handovers).toEqual([]);
    expect(report.bouts.map(({ startMs, roles, cycles }) => [startMs, roles.compressor, cycles])).toEqual([
      [1000, 'A', { total: 8, exact: 8, coordinated: 7 }],
    ]);
  });
  it('of a rest gives back the presses made since', () => {
    const report = pair(2).call(5000, 'rest').ideal(5000, 2).call(7000, 'undo').report();
    // Cycles from 1000, 3000, 5000, 7000 (open).
    expect(report.bouts.map(({ cycles }) => cycles.total)).toEqual([3]);
  });
  it('takes back one call each, the latest first', () => {
    const both = pair().call(12_300, 'swap').call(12_400, twoFinger);
    expect(outline(both.call(12_500, 'undo'))).toEqual([['swap', 'cut short']]);
    expect(outline(both.call(12_600, 'undo'))).toEqual([]);
    // Open, begin, 46 edges to 12 200; swap, technique, the breath's down at 12 500, two undos: lines 1 to 53.
    expect(ignored(both.call(12_700, 'undo'))).toEqual([
      'line 54: undo was ignored: there was nothing to take back',
    ]);
  });
  it('does not take back an undo, nor a call behind a too old one', () => {
    // Swap at 9000, technique at 9100, undone at 9200: the next undo, at 14 000.001, is over 5 s after the swap.
    const journal = pair()
      .call(9000, 'swap')
      .call(9100, twoFinger)
      .call(9200, 'undo')
      .call(14_000.001, 'undo');
    expect(outline(journal)).toEqual([['swap', 'cut short']]);
    expect(
      outline(pair().call(9000, 'swap').call(9100, twoFinger).call(9200, 'undo').call(14_000, 'undo')),
    ).toEqual([]);
  });
  it('takes back any call but begin, an ignored one too', () => {
    const journal = pair()
      .call(12_300, 'swap')
      .call(12_400, 'begin')
      .call(12_500, { call: 'heart-rate', bpm: 80 })
      .call(12_600, 'undo');
    // The heart rate went; the swap stands; the second begin is ignored as ever.
    expect(outline(journal)).toEqual([['swap', 'cut short']]);
    expect(outline(journal.call(12_700, 'undo'))).toEqual([]);
    expect(ignored(journal)).toHaveLength(1);
    const again = pair().call(12_300, 'swap').call(12_400, 'checked').call(12_500, 'undo');
    expect([outline(again), ignored(again)]).toEqual([[['swap', 'cut short']], []]);
  });
  it('never takes back begin', () => {
    const journal = new JournalBuilder().call(0, 'begin').call(100, 'undo').ideal(1000, 2);
    expect(journal.report().bouts).toHaveLength(1);
    expect(ignored(journal)).toEqual(['line 3: undo was ignored: there was nothing to take back']);
  });
});

describe('undo of finish', () => {
  it('is possible until close, however late', () => {
    // Presses after the finish count again: cycles from 1000, 3000, 21 000, 23 000 (open).
    const report = pair(2)
      .call(5000, 'finish')
      .ideal(21_000, 2)
      .call(60_000, 'undo')
      .line({ kind: 'close', at: 60_001 })
      .report();
    expect(report.bouts.map(({ cycles }) => cycles.total)).toEqual([3]);
    expect(report.warnings).toEqual([]);
  });
  it('opens the way to what was called before it, within 5 s of that', () => {
    const late = pair().call(12_300, 'swap').call(13_000, 'finish').call(20_000, 'undo').call(20_100, 'undo');
    expect(outline(late)).toEqual([['swap', 'cut short']]);
    const soon = pair().call(12_300, 'swap').call(13_000, 'finish').call(14_000, 'undo').call(14_100, 'undo');
    expect(outline(soon)).toEqual([]);
  });
});
