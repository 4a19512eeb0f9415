import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Heart-rate checks: from the last compression's release to the next bout's first onset. */
const begun = () => new JournalBuilder().call(0, 'begin');
const checksOf = (journal: JournalBuilder) => journal.report().checks;

describe('a check', () => {
  it('pauses from the last release to the next onset, whenever it is called off', () => {
    // Two ideal cycles from 1000: last compression 4000 to 4200. Next onset 12 000: 7800 ms.
    const journal = begun().ideal(1000, 2).call(5000, 'check').call(9000, 'checked').ideal(12_000, 2);
    expect(checksOf(journal)).toEqual([{ calledMs: 5000, pauseMs: 7800 }]);
  });
  it('counts a compression that a handover was still holding back', () => {
    // Technique is called 4100; the compression 5000 to 5200 comes 250 ms before the check. 12 000 − 5200 = 6800.
    const journal = begun()
      .ideal(1000, 2)
      .press('chest', 5000, 5200)
      .call(4100, { call: 'technique', technique: 'two-finger' })
      .call(5250, 'check')
      .call(9000, 'checked')
      .ideal(12_000, 2);
    expect(checksOf(journal)).toEqual([{ calledMs: 5250, pauseMs: 6800 }]);
  });
  it('has a compression that was held over the call let up first', () => {
    // Held from 4500 to 6000, the check at 5000: 12 000 − 6000.
    const journal = begun()
      .ideal(1000, 1)
      .press('chest', 4500, 6000)
      .call(5000, 'check')
      .call(9000, 'checked')
      .ideal(12_000, 1);
    expect(checksOf(journal)).toEqual([{ calledMs: 5000, pauseMs: 6000 }]);
  });
  it('has no pause under 0', () => {
    // Each keeps a switch: A holds a compression from 2000 to 15 000; B, after the swap, starts at 12 000.
    const journal = new JournalBuilder({ binding: 'person' })
      .call(0, 'begin')
      .press('A', 2000, 15_000)
      .call(5000, 'check')
      .call(6000, 'swap')
      .call(9000, 'checked')
      .ideal(12_000, 1, 2000, 'B', 'A');
    expect(checksOf(journal)).toEqual([{ calledMs: 5000, pauseMs: 0 }]);
  });
  it('of two in one silence ends both with the same onset', () => {
    const journal = begun()
      .ideal(1000, 2)
      .call(5000, 'check')
      .call(6000, 'checked')
      .call(7000, 'check')
      .call(8000, 'checked')
      .ideal(12_000, 1);
    expect(checksOf(journal)).toEqual([
      { calledMs: 5000, pauseMs: 7800 },
      { calledMs: 7000, pauseMs: 7800 },
    ]);
  });
  it('in a rest counts from the compression before the rest', () => {
    const journal = begun()
      .ideal(1000, 2)
      .call(5000, 'rest')
      .call(7000, 'check')
      .call(8000, 'checked')
      .ideal(12_000, 1);
    expect(checksOf(journal)).toEqual([{ calledMs: 7000, pauseMs: 7800 }]);
  });
  it('is null with nothing before it or after it', () => {
    expect(checksOf(begun().call(500, 'check').call(900, 'checked').ideal(1000, 1))).toEqual([
      { calledMs: 500, pauseMs: { value: null, reason: 'no compression before it' } },
    ]);
    expect(checksOf(begun().ideal(1000, 1).call(3000, 'check').call(9000, 'finish'))).toEqual([
      { calledMs: 3000, pauseMs: { value: null, reason: 'no compression after it' } },
    ]);
  });
  it('is not there when it was undone', () => {
    const journal = begun().ideal(1000, 1).call(3000, 'check').call(4000, 'undo').ideal(5000, 1);
    expect([checksOf(journal), journal.report().bouts.length]).toEqual([[], 1]);
  });
});
