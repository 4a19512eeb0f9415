import { describe, expect, it } from 'vitest';
import { hintOf } from '../../../machines/hints.ts';
import { replay } from '../../../machines/replay.ts';
import { faultsOf } from '../../../machines/scoring/faults.ts';
import { judgedRows } from '../../../machines/scoring/judged-rows.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { adviceOfLines } from '../../support/advised-pair.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Compressions exactly on the beat; the breath of each cycle so many ms after its place, or none. Ada compresses, Ben ventilates. */
function onTheBeat(breathsLateMs: readonly (number | null)[]): JournalBuilder {
  const builder = new JournalBuilder().call(0, 'begin');
  for (const [cycle, lateMs] of breathsLateMs.entries()) {
    const at = 1000 + 2000 * cycle;
    builder.cycle([at, at + 500, at + 1000], lateMs === null ? null : at + 1500 + lateMs);
  }
  const end = 1000 + 2000 * breathsLateMs.length;
  return builder.cycle([end, end + 500, end + 1000], end + 1500).cycle([end + 2000], null);
}
function judged(builder: JournalBuilder) {
  const fold = replay(builder.open, builder.lines);
  return judgedRows(reportOf(fold), boutRowsOf(fold));
}
const causes = (breaths: readonly (number | null)[]) =>
  judged(onTheBeat(breaths)).map((row) => row.causes.join(', '));
const faults = (breaths: readonly (number | null)[]) =>
  judged(onTheBeat(breaths)).map(({ source }) => faultsOf(source, 'standard').join(', '));
const told = (builder: JournalBuilder) => {
  const { forPerson, pair } = adviceOfLines(
    builder.open,
    builder.lines.map(({ line }) => line),
  );
  return [forPerson.A.toTry?.rule ?? null, forPerson.B.toTry?.rule ?? null, pair.toTry?.rule ?? null];
};

describe('why a cycle is not as it should be, the compressions being in perfect time', () => {
  it.each([
    [450, ['breath late', 'breath late', 'breath late', '']],
    [600, ['breath late', 'breath late', 'breath late', '']],
    [750, ['breath late', 'breath late', 'breath late', '']],
    [-700, ['breath before the third', 'breath before the third', 'breath before the third', '']],
  ])('the breath is %i ms off its place in every cycle, and its giver is told so', (off, wanted) => {
    expect(causes([off, off, off])).toEqual(wanted);
  });
  it('a late breath takes the next “one” with it, and what is left of that triplet is nobody’s fault', () => {
    expect(causes([0, 600, 0, 0])).toEqual(['', 'breath late', '', '', '']);
    expect(causes([0, 600, null, 0])).toEqual(['', 'breath late', 'no breath', '']);
    expect(causes([600, 600, null, 600, 0])).toEqual([
      'breath late',
      'breath late',
      'breath late, no breath',
      '',
      '',
    ]);
  });
  it('a breath that was missed before one that came early, or after one, is missed all the same', () => {
    expect(causes([0, null, -700, 0])).toEqual(['', 'breath before the third, no breath', '', '']);
    expect(causes([-700, 0, 0])).toEqual(['breath before the third', '', '', '']);
  });
});

describe('what the sheet says happened', () => {
  it('the breath was late, not too soon for a third that it came after', () => {
    expect(faults([0, 600, 0])).toEqual(['', 'breath late', 'breath after two', '']);
    expect(faults([750, 750, 750])).toEqual([
      'breath late',
      'breath late',
      'breath late',
      'breath after two',
    ]);
  });
  it('or it came after two, when it is always that early', () => {
    expect(faults([-700, -700, -700])[1]).toBe('breath after two');
  });
  it('and the Floor’s hint is not to wait still longer', () => {
    const hints = judged(onTheBeat([600, 600, 600])).map(({ source }) => hintOf(source, 'standard'));
    expect(hints).toEqual([null, null, null, null]);
  });
});

it.each([1, 4])('only the one whose breath is late is told, late in every cycle of %i', (every) => {
  for (const lateMs of [600, 750]) {
    const breaths = Array.from({ length: 30 }, (_, cycle) => (cycle % every === 0 ? lateMs : 0));
    expect(told(onTheBeat(breaths))).toEqual([null, 'breath-late-at-times', null]);
  }
});

it('a row that is left out still leaves the rest of its triplet to the next, which is not the compressor’s fault', () => {
  const builder = onTheBeat(Array.from({ length: 30 }, (_, cycle) => (cycle % 4 === 2 ? -700 : 0)));
  const marks = judged(builder).filter((row) => row.causes.includes('breath before the third'));
  for (const { startMs } of marks) builder.line({ kind: 'mark', at: 70_000, row: startMs, missed: true });
  expect(marks).toHaveLength(7);
  expect(told(builder)).toEqual([null, null, null]);
});
