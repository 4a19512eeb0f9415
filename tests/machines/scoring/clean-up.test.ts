import { describe, expect, it } from 'vitest';
import { replay } from '../../../machines/replay.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/**
 * Clean-up of edges, with bounceMs 25. Each journal is one complete cycle (C C C V, then the next start),
 * so that what counts shows in `drill.compressions` and the lengths of presses in `dwellMs`.
 */
const start = () => new JournalBuilder({ bounceMs: 25 }).call(0, 'begin');
/** The second and third compression, the breath, and the next start. */
const rest = (journal: JournalBuilder) =>
  journal.cycle([1500, 2000], 2500).press('chest', 3000, 3200).call(4000, 'finish');
const drillOf = (journal: JournalBuilder) => rest(journal).report().drill;

describe('auto-repeat', () => {
  it('of a held switch is dropped', () => {
    const journal = start().down('chest', 1000).down('chest', 1100).down('chest', 1150).up('chest', 1200);
    // Lengths 200, 200, 200.
    expect(drillOf(journal)).toMatchObject({
      compressions: 3,
      compressor: { dwellMs: { mean: 200, sd: 0, n: 3 } },
    });
    expect(replay(journal.open, journal.lines).dropped).toEqual({ repeats: 2, bounces: 0 });
  });
  it('of an up, and an up before any down, is dropped', () => {
    const journal = start().up('chest', 900).press('chest', 1000, 1200).up('chest', 1300);
    expect(drillOf(journal)).toMatchObject({ compressions: 3, compressor: { dwellMs: { mean: 200, n: 3 } } });
    expect(replay(journal.open, journal.lines).dropped).toEqual({ repeats: 2, bounces: 0 });
  });
});

describe('bounce', () => {
  it.each([
    [1224.999, 3, 1], // 24.999 ms after the up: one press, 1000 to 1400
    [1225, 4, 0], // 25 ms: another press
  ])('a down at %s ms after an up at 1200 leaves %s compressions', (at, compressions, bounces) => {
    const journal = start().press('chest', 1000, 1200).press('chest', at, 1400);
    expect(drillOf(journal).compressions).toBe(compressions);
    expect(replay(journal.open, journal.lines).dropped.bounces).toBe(bounces);
  });
  it('lets the press go on to its real end', () => {
    // 1000 to 1400, 200, 200: mean 800 ÷ 3.
    const journal = start().press('chest', 1000, 1200).press('chest', 1210, 1400);
    expect(drillOf(journal).compressor.dwellMs).toMatchObject({ mean: 800 / 3, n: 3 });
  });
  it('is counted from the same switch’s up only', () => {
    // The airway goes down 10 ms after the chest came up: a breath.
    const journal = start().press('chest', 1000, 1200).press('airway', 1210, 1300);
    expect(drillOf(journal)).toMatchObject({ compressions: 3, breaths: 2 });
  });
  it('is looked for after repeats are gone: from the first of two ups', () => {
    // 1200 and 1210 (repeat); down 1230 is 30 ms after the up that counts: a press.
    const journal = start().press('chest', 1000, 1200).up('chest', 1210).press('chest', 1230, 1400);
    expect(drillOf(journal).compressions).toBe(4);
  });
  it('can come many times in one press', () => {
    // 1000–1100, 1110–1130, 1140–1200 are one press of 200 ms.
    const journal = start().press('chest', 1000, 1100).press('chest', 1110, 1130).press('chest', 1140, 1200);
    expect(drillOf(journal)).toMatchObject({ compressions: 3, compressor: { dwellMs: { mean: 200, n: 3 } } });
  });
  it('is off with 0 ms: a down at the very time of the up is a press', () => {
    const journal = new JournalBuilder()
      .call(0, 'begin')
      .press('chest', 1000, 1200)
      .press('chest', 1200, 1400);
    expect(drillOf(journal).compressions).toBe(4);
  });
});

describe('a release nobody saw', () => {
  it('leaves the press counted, and out of every length', () => {
    const journal = start().down('chest', 1000).up('chest', 1400, true);
    expect(drillOf(journal)).toMatchObject({
      compressions: 3,
      compressor: { dwellMs: { mean: 200, sd: 0, n: 2 } },
      cycles: { coordinated: 1 },
    });
  });
  it('is no short squeeze, however soon', () => {
    const journal = start()
      .cycle([1000, 1500, 2000], null)
      .down('airway', 2500)
      .up('airway', 2550, true)
      .press('chest', 3000, 3200);
    expect(journal.report().drill.ventilator).toEqual({
      dwellMs: {
        mean: { value: null, reason: 'no press with a length' },
        sd: { value: null, reason: 'no press with a length' },
        n: 0,
      },
      shortSqueezes: 0,
    });
  });
  it('followed by a down within the bounce time is taken back: the press went on', () => {
    // 1000 to 1400 with a lost release at 1200 and a down at 1210: lengths 400, 200, 200.
    const journal = start().down('chest', 1000).up('chest', 1200, true).press('chest', 1210, 1400);
    expect(drillOf(journal).compressor.dwellMs).toMatchObject({ mean: 800 / 3, n: 3 });
  });
  it('at the journal’s end is at the last line’s time', () => {
    // The breath from 2500 is open; compressions of 200 ms at 3000 and 3500 fall into it: 400 ms shared, and
    // the one at 3900 until 4000, the close line: 100 ms more. Late: 4000 − 3000 > 100.
    const journal = start()
      .cycle([1000, 1500, 2000], null)
      .down('airway', 2500)
      .cycle([3000, 3500], null)
      .press('chest', 3900, 4000)
      .line({ kind: 'close', at: 4000 });
    const { drill } = journal.report();
    expect(drill.breaths).toBe(1);
    expect(drill.clash).toEqual({ count: 0, byBreath: 0, byCompression: 0, letGoLate: 1, overlapMs: 500 });
    expect(drill.ventilator.dwellMs.n).toBe(0);
  });
});
