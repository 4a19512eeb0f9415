import type { CycleRow } from '../../machines/scoring/cycle-row.ts';

/** A press of a row, in ms from the row's start; false when its release was lost. */
type RowPressMs = readonly [on: number, length: number, isMeasured?: boolean];
/** A cycle of `length` ms without clashes, T = 2000 ms. */
export const row = (
  length: number,
  compressions: readonly RowPressMs[],
  breaths: readonly RowPressMs[],
  startMs = 0,
): CycleRow => ({
  startUs: startMs * 1000,
  lengthUs: Math.round(length * 1000),
  idealUs: 2_000_000,
  guidance: 'unled',
  guidanceChanged: false,
  compressions: compressions.map(pressOf),
  breaths: breaths.map(pressOf),
  clash: { count: 0, byBreath: 0, byCompression: 0, letGoLate: 0, overlapUs: 0 },
});
const pressOf = ([on, length, isMeasured = true]: RowPressMs) => ({
  onUs: Math.round(on * 1000),
  offUs: Math.round((on + length) * 1000),
  isMeasured,
});
/** Compressions of 200 ms at 0, `second` and `third`, a breath of 400 ms. */
export const exactRow = (length: number, second = 500, third = 1000, breath = 1500) =>
  row(
    length,
    [
      [0, 200],
      [second, 200],
      [third, 200],
    ],
    [[breath, 400]],
  );
/** One compression and one breath. */
export const inexactRow = (length: number) => row(length, [[0, 200]], [[500, 400]]);
