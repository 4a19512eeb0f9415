import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Where bouts begin and end, and what they hold. Ideal cycles: compressions of 200 ms, breaths of 400 ms, T = 2000 ms. */
const begun = () => new JournalBuilder().call(0, 'begin');
const spans = (journal: JournalBuilder) =>
  journal.report().bouts.map(({ startMs, endMs }) => [startMs, endMs]);
const ignored = (journal: JournalBuilder) =>
  journal.report().warnings.filter((warning) => warning.includes('was ignored'));

describe('a bout', () => {
  it('starts at the first compression after begin, not at a breath before it', () => {
    const journal = begun().press('airway', 500, 700).ideal(1000, 1);
    // One cycle from 1000; last release 2500 + 400. Three compressions and one breath in 1900 ms.
    expect(spans(journal)).toEqual([[1000, 2900]]);
    expect(journal.report().drill.attempt).toEqual({
      ms: 1900,
      compressionsPerMin: (3 * 60_000) / 1900,
      breathsPerMin: 60_000 / 1900,
    });
  });
  it('is not there without begin', () => {
    const report = new JournalBuilder().ideal(1000, 3).call(9000, 'finish').report();
    expect(report.bouts).toEqual([]);
    expect(report.warnings).toContain('no begin call: nothing was scored');
    expect(report.drill.attempt).toEqual({
      ms: 0,
      compressionsPerMin: { value: null, reason: 'no bout' },
      breathsPerMin: { value: null, reason: 'no bout' },
    });
  });
  it('holds no press from before begin, even one still held', () => {
    const journal = new JournalBuilder()
      .down('chest', 100)
      .call(500, 'begin')
      .up('chest', 700)
      .ideal(1000, 1);
    expect(spans(journal)).toEqual([[1000, 2900]]);
  });
  it.each([
    ['rest', 'resume'],
    ['check', 'checked'],
  ] as const)('ends at %s, and the next starts at the first compression after %s', (away, back) => {
    const journal = begun()
      .ideal(1000, 2)
      .call(5000, away)
      .ideal(6000, 1)
      .call(10_000, back)
      .press('airway', 10_500, 10_700)
      .ideal(11_000, 1);
    expect(spans(journal)).toEqual([
      [1000, 5000],
      [11_000, 12_900],
    ]);
    // In bouts: 6 + 3 compressions and 2 + 1 breaths, in 4000 + 1900 ms.
    expect(journal.report().drill.attempt).toMatchObject({ ms: 5900, breathsPerMin: (3 * 60_000) / 5900 });
  });
  it('ends at finish: its time runs to the last release, also after the call', () => {
    // The breath from 2500 is held until 6000; finish at 3000; the presses after it belong to none.
    const journal = begun()
      .cycle([1000, 1500, 2000], null)
      .press('airway', 2500, 6000)
      .call(3000, 'finish')
      .ideal(7000, 2);
    expect(spans(journal)).toEqual([[1000, 6000]]);
    expect(journal.report().drill.attempt.breathsPerMin).toBe(60_000 / 5000);
  });
  it('ends at the journal’s end, a press still open with the last line', () => {
    const journal = begun().down('chest', 1000).line({ kind: 'note', at: 4000, text: 'that was all' });
    expect(spans(journal)).toEqual([[1000, 4000]]);
  });
  it('is half-open in the order of lines', () => {
    // A compression at 5000, the time of the rest: with its line first it completes the second cycle.
    const inside = begun().ideal(1000, 2).press('chest', 5000, 5200).call(5000, 'rest');
    const outside = begun().ideal(1000, 2).call(5000, 'rest').press('chest', 5000, 5200);
    expect(inside.report().drill.cycles.total).toBe(2);
    expect(outside.report().drill.cycles.total).toBe(1);
    // And at begin and resume it is in only after the call.
    const before = new JournalBuilder().press('chest', 0, 100).call(0, 'begin').ideal(1000, 1);
    const after = begun().press('chest', 0, 100).ideal(1000, 1);
    expect([spans(before)[0]?.[0], spans(after)[0]?.[0]]).toEqual([1000, 0]);
  });
  it('keeps a press whose onset fell in it, though let up after it', () => {
    // The breath of the first cycle is let up at 3600, in the rest: 1100 ms long.
    const journal = begun()
      .cycle([1000, 1500, 2000], null)
      .press('airway', 2500, 3600)
      .press('chest', 3000, 3100)
      .call(3200, 'rest');
    expect(journal.report().drill.ventilator.dwellMs).toMatchObject({ mean: 1100, n: 1 });
    expect(spans(journal)).toEqual([[1000, 3200]]);
  });
});

describe('a call out of its turn is ignored with a warning:', () => {
  it.each([
    ['begin', 'line 12: begin was ignored: the drill had begun before'],
    ['resume', 'line 12: resume was ignored: no rest was going on'],
    ['checked', 'line 12: checked was ignored: no check was going on'],
    ['taken', 'line 12: taken was ignored: no handover was open'],
    ['undo', 'line 12: undo was ignored: there was nothing to take back'],
  ] as const)('%s in a bout', (call, warning) => {
    // Open, begin, eight edges of the first cycle and the down of the next start: lines 1 to 11.
    const journal = begun().ideal(1000, 2).call(3100, call);
    expect(ignored(journal)).toEqual([warning]);
    expect(spans(journal)).toEqual([[1000, 4900]]);
  });
  it('rest in rest, check in check, finish after finish', () => {
    expect(ignored(begun().call(1, 'rest').call(2, 'rest'))).toHaveLength(1);
    expect(ignored(begun().call(1, 'check').call(2, 'check'))).toHaveLength(1);
    expect(ignored(begun().call(1, 'finish').call(2, 'finish'))).toHaveLength(1);
  });
  it('rest and check before begin and after finish', () => {
    expect(ignored(new JournalBuilder().call(1, 'rest').call(2, 'check'))).toHaveLength(2);
    expect(
      ignored(begun().call(1, 'finish').call(2, 'rest').call(3, 'check').call(4, 'resume')),
    ).toHaveLength(3);
  });
  it('but rest in a check and check in a rest are taken: the last one counts', () => {
    expect(ignored(begun().call(1, 'check').call(2, 'rest').call(3, 'checked'))).toHaveLength(1);
    expect(ignored(begun().call(1, 'rest').call(2, 'check').call(3, 'checked'))).toHaveLength(0);
  });
});

describe('the drill', () => {
  /** A compresses 1000–9000, B after the swap at 10 300 (last compression 10 000; first new 12 000), A after the rest. */
  const drill = () =>
    begun()
      .ideal(1000, 5)
      .call(10_300, 'swap')
      .ideal(12_000, 4)
      .call(21_000, 'rest')
      .call(22_000, 'swap')
      .call(30_000, 'resume')
      .ideal(31_000, 3)
      .call(38_000, 'finish');

  it('counts attempt from each bout’s start to its end', () => {
    // 1000–12 000, 12 000–21 000, 31 000–36 900 (last release 35 000 + 1500 + 400).
    const { attempt } = drill().report().drill;
    expect(spans(drill())).toEqual([
      [1000, 12_000],
      [12_000, 21_000],
      [31_000, 36_900],
    ]);
    // 15 + 12 + 9 compressions and 5 + 4 + 3 breaths in 11 000 + 9000 + 5900 ms: dead time shows.
    expect(attempt).toEqual({
      ms: 25_900,
      compressionsPerMin: (36 * 60_000) / 25_900,
      breathsPerMin: (12 * 60_000) / 25_900,
    });
  });
  it('pools rows, and gives each person the bouts in which they held a role', () => {
    // Complete cycles: 4, 3 and 2.
    const { drill: all, bouts } = drill().report();
    expect(bouts.map(({ cycles }) => cycles.total)).toEqual([4, 3, 2]);
    expect(all.cycles.total).toBe(9);
    expect(all.people.A.compressor.cycles.total).toBe(6);
    expect(all.people.A.ventilator.cycles.total).toBe(3);
    expect(all.people.B.compressor.cycles.total).toBe(3);
    expect(all.people.B.ventilator.cycles.total).toBe(6);
    expect([all.people.A.name, all.people.B.name]).toEqual(['Ada', 'Ben']);
  });
  it('pools no neighbours across bouts', () => {
    // Bout 1 has cycles of 2000 ms twice, bout 2 of 2100 twice: neighbours 0 and 0, never 100.
    const journal = begun()
      .ideal(1000, 3)
      .call(6000, 'rest')
      .call(7000, 'resume')
      .ideal(8000, 3, 2100)
      .call(20_000, 'finish');
    const { drill: all, bouts } = journal.report();
    expect(all.cycles).toMatchObject({ total: 4, exact: 4 });
    expect(all.cycleJitterMs).toBe(0);
    // One pair a bout is under two.
    expect(bouts.map(({ cycleJitterMs }) => cycleJitterMs)).toEqual([
      { value: null, reason: 'under two neighbouring pairs of exact cycles' },
      { value: null, reason: 'under two neighbouring pairs of exact cycles' },
    ]);
  });
  it('has no pace change of its own', () => {
    expect(drill().report().drill).not.toHaveProperty('paceChangePctPerMin');
  });
});
