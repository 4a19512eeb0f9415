import { expect, it } from 'vitest';
import { exactShareInterval } from '../../../machines/statistics/binomial.ts';

/** By scipy 1.17.1, scipy.stats.beta.ppf at 0.025 and 0.975. */
const KNOWN = [
  [0, 29, 0, 0.119445],
  [1, 29, 0.000873, 0.177644],
  [3, 29, 0.021864, 0.273515],
  [6, 29, 0.079942, 0.397247],
  [29, 29, 0.880555, 1],
  [150, 300, 0.441998, 0.558002],
  [600, 3000, 0.185818, 0.21477],
] as const;

it.each(KNOWN)('%i of %i lies between %f and %f', (count, of, low, high) => {
  expect(exactShareInterval(count, of)).toEqual({
    low: expect.closeTo(low, 6),
    high: expect.closeTo(high, 6),
  });
});

it('of none there is none, and a count that cannot be is refused', () => {
  expect(exactShareInterval(0, 0)).toBeNull();
  expect(() => exactShareInterval(3, 2)).toThrow(RangeError);
});
