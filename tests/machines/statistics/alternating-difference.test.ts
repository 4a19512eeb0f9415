import fc from 'fast-check';
import { expect, it } from 'vitest';
import { alternatingDifference } from '../../../machines/statistics/alternating-difference.ts';
import { studentT } from '../../../machines/statistics/student-t.ts';

// By hand. First side: order 1, 3, 5 plus 1, −2, 1; second side: order 2, 4, 6 plus 6. What is left after an effect of 6 and a trend of 1
// sums to 0 on either side and does not lean on order, so they are the least-squares ones: s² = (1 + 4 + 1) ÷ (6 − 3) = 2.
// Sides are ± ½ about their mean: Σ x² = 1.5, Σ t² = 17.5, Σ xt = 1.5, so the effect's variance is 2 × 17.5 ÷ (1.5 × 17.5 − 1.5²) = 35/24.
const BY_HAND = [2, 8, 1, 10, 6, 12];
it('takes out a trend and has three degrees of freedom of six turns', () => {
  const { difference, low, high } = alternatingDifference(BY_HAND, false, 0.95);
  expect(difference).toBeCloseTo(6, 12);
  // t of 3 degrees of freedom: 3.182.
  expect(low).toBeCloseTo(6 - 3.182_446 * Math.sqrt(35 / 24), 5);
  expect(high).toBeCloseTo(6 + 3.182_446 * Math.sqrt(35 / 24), 5);
});

it('never takes the error of a turn for less than its steps', () => {
  const { low, high } = alternatingDifference([1, 2, 1, 2], false, 0.95, 3);
  // One degree of freedom; four turns: Σ x² = 1, Σ t² = 5, Σ xt = 1.
  expect((high - low) / 2).toBeCloseTo(studentT(1, 0.95) * Math.sqrt((3 * 5) / (1 * 5 - 1)), 9);
});

it('needs four turns', () => {
  expect(() => alternatingDifference([1, 2, 3], false, 0.95)).toThrow(RangeError);
});

const turns = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 4, maxLength: 12 });
const close = (one: number, other: number) =>
  expect(Math.abs(one - other)).toBeLessThan(1e-7 * (1 + Math.abs(other)));

it('turns its sign when the sides change names, and does not see a straight trend', () => {
  fc.assert(
    fc.property(
      turns,
      fc.boolean(),
      fc.double({ min: -50, max: 50, noNaN: true }),
      (values, isSecond, slope) => {
        const found = alternatingDifference(values, isSecond, 0.9);
        const swapped = alternatingDifference(values, !isSecond, 0.9);
        close(swapped.difference, -found.difference);
        close(swapped.low, -found.high);
        const leaning = values.map((value, turn) => 7 + value + slope * turn);
        const same = alternatingDifference(leaning, isSecond, 0.9);
        close(same.difference, found.difference);
        close(same.high, found.high);
      },
    ),
  );
});

it('is the generalised least-squares one of neighbouring differences that share a turn', () => {
  fc.assert(
    fc.property(turns, (values) => {
      // Second less first: effect plus or minus a step of trend; each has a variance of 2, and neighbours, whose signs differ, +1.
      const signs = values.slice(1).map((_, index) => (index % 2 === 0 ? 1 : -1));
      const differences = signs.map((sign, at) => sign * ((values[at + 1] ?? 0) - (values[at] ?? 0)));
      const covariance = signs.map((_, i) =>
        signs.map((__, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? 1 : 0)),
      );
      const ones = signs.map(() => 1);
      const [byOnes, bySigns, byDifferences] = [ones, signs, differences].map((list) =>
        solve(covariance, list),
      );
      const dot = (one: readonly number[], other: readonly number[] = []) =>
        one.reduce((sum, value, index) => sum + value * (other[index] ?? 0), 0);
      const normal = [
        [dot(ones, byOnes), dot(ones, bySigns)],
        [dot(signs, byOnes), dot(signs, bySigns)],
      ];
      const [effect = Number.NaN] = solve(normal, [dot(ones, byDifferences), dot(signs, byDifferences)]);
      close(alternatingDifference(values, false, 0.9).difference, effect);
    }),
  );
});

/** Gauss's elimination, for positive definite matrices. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, index) => [...row, right[index] ?? 0]);
  for (const [pivot, own] of rows.entries()) {
    for (const [index, row] of rows.entries()) {
      if (index === pivot) continue;
      const factor = (row[pivot] ?? 0) / (own[pivot] ?? 1);
      for (let column = 0; column <= rows.length; column += 1)
        row[column] = (row[column] ?? 0) - factor * (own[column] ?? 0);
    }
  }
  return rows.map((row, index) => (row[rows.length] ?? 0) / (row[index] ?? 1));
}
