import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drillListsOf } from '../../machines/press-list.ts';
import { anyJournal } from '../support/arbitrary-journal.ts';
import { JournalBuilder } from '../support/journal-builder.ts';

describe('the list of presses', () => {
  it('says of each what it counts in, whose it is and where in its cycle it stands', () => {
    const journal = new JournalBuilder()
      .press('chest', 200, 300)
      .call(500, 'begin')
      .ideal(1000, 1)
      .press('chest', 3000, 3200)
      .call(3400, 'rest')
      .call(3500, 'swap')
      .press('airway', 3600, 3700)
      .line({ kind: 'close', at: 4000 });
    const { presses } = drillListsOf(journal);
    expect(
      presses.map(({ onMs, counts, role, person, bout, cycle, place }) => [
        onMs,
        counts,
        role,
        person,
        bout,
        cycle,
        place,
      ]),
    ).toEqual([
      [200, 'outside', 'compressor', 'A', null, null, null],
      [1000, 'cycle', 'compressor', 'A', 0, 0, 0],
      [1500, 'cycle', 'compressor', 'A', 0, 0, 1],
      [2000, 'cycle', 'compressor', 'A', 0, 0, 2],
      [2500, 'cycle', 'ventilator', 'B', 0, 0, 0],
      [3000, 'bout', 'compressor', 'A', 0, null, null],
      [3600, 'outside', 'ventilator', 'A', null, null, null],
    ]);
  });

  it('marks what the old compressor pressed on after a swap, where each keeps a switch', () => {
    const journal = new JournalBuilder({ binding: 'person' }).call(500, 'begin');
    journal.ideal(1000, 3, 2000, 'A', 'B').call(6900, 'swap');
    journal.press('B', 7000, 7100).press('B', 7500, 7600).press('A', 7550, 7650).press('A', 8000, 8100);
    journal.press('B', 8000, 8200).ideal(9000, 2, 2000, 'B', 'A').line({ kind: 'close', at: 15_000 });
    const { presses } = drillListsOf(journal);
    expect(presses.filter(({ counts }) => counts === 'stray').map((one) => [one.onMs, one.switch])).toEqual([
      [7550, 'A'],
      [8000, 'A'],
    ]);
  });

  it('puts a press into the bout that "taken" began with it, though another ran at its line', () => {
    const journal = new JournalBuilder().call(0, 'begin').ideal(1000, 2).press('chest', 5000, 5040);
    journal.call(5050, 'swap').press('chest', 5500, 5590).call(5600, 'taken').call(5700, 'rest');
    const last = drillListsOf(journal).presses.slice(-2);
    expect(last.map(({ onMs, counts, bout, person }) => [onMs, counts, bout, person])).toEqual([
      [5000, 'bout', 0, 'A'],
      [5500, 'bout', 1, 'B'],
    ]);
  });

  it('has the distance to the heard beat of its own name, and no call that was taken back', () => {
    const journal = new JournalBuilder({ guidance: 'led' }).call(0, 'begin');
    journal.line({
      kind: 'count',
      at: 0,
      what: 'given',
      by: 'sound',
      fromMs: 980,
      beat: 'one',
      cycleMs: 2000,
      outputLatencyMs: null,
      errorMs: null,
    });
    journal.ideal(1000, 2).call(4500, 'rest').call(4600, 'undo').line({ kind: 'close', at: 6000 });
    const { presses, calls } = drillListsOf(journal);
    expect(presses.map(({ asynchronyMs }) => asynchronyMs)).toEqual([20, 20, 20, 20, null, null, null, null]);
    expect(calls.map(({ call }) => call)).toEqual(['begin']);
  });

  it('has every press of every complete cycle in its place, whatever the journal', () => {
    fc.assert(
      fc.property(anyJournal(), (journal) => {
        const { rows, presses, fold } = drillListsOf(journal);
        const inCycles = presses.filter(({ counts }) => counts === 'cycle');
        const expected = rows.flatMap(({ bout, cycle, startUs, compressions, breaths }) =>
          [compressions, breaths].flatMap((list, index) =>
            list.map(({ onUs, offUs }, place) => ({
              role: index === 0 ? 'compressor' : 'ventilator',
              onMs: (startUs + onUs) / 1000,
              offMs: (startUs + offUs) / 1000,
              bout,
              cycle,
              place,
            })),
          ),
        );
        const got = inCycles.map(({ role, onMs, offMs, bout, cycle, place }) => ({
          role,
          onMs,
          offMs,
          bout,
          cycle,
          place,
        }));
        const byPlace = (list: readonly object[]) => list.map((one) => JSON.stringify(one)).sort();
        expect(byPlace(got)).toEqual(byPlace(expected));
        const inBouts = presses.filter(({ counts }) => counts === 'cycle' || counts === 'bout');
        const { compressions, breaths } = fold.tracker.book.scored;
        if (fold.tracker.handovers.length === 0) expect(inBouts.length).toBe(compressions + breaths);
      }),
      { numRuns: 300 },
    );
  });
});
