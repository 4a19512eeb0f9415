import { expect, test } from 'vitest';
import { medianError, medianInterval } from '../../../machines/statistics/median-interval.ts';
import { nextUniform, seedRandom } from '../../../machines/statistics/random.ts';

const oneTo = (n: number) => Array.from({ length: n }, (_, index) => index + 1);

test.each([
  // Ranks and coverage of the sign test's interval, worked out by hand from the binomial of ½: 1 − 2 Σ C(n, i) ÷ 2ⁿ, i under the rank.
  [6, 1, 1 - 2 / 64],
  [8, 1, 1 - 2 / 256],
  [9, 2, 1 - (2 * 10) / 512],
  [10, 2, 1 - (2 * 11) / 1024],
  [15, 4, 1 - (2 * (1 + 15 + 105 + 455)) / 32_768],
  [20, 6, 1 - (2 * (1 + 20 + 190 + 1140 + 4845 + 15_504)) / 1_048_576],
])('of %i values takes the rank %i from either end', (n, rank, coverage) => {
  const found = medianInterval(oneTo(n).reverse());
  expect(found).toMatchObject({ median: (n + 1) / 2, low: rank, high: n + 1 - rank, n });
  expect(found?.coverage).toBeCloseTo(coverage, 12);
});

test('of many values takes the ranks of the normal shape', () => {
  // (1000 − 1.96 √1000) ÷ 2 = 469.01.
  expect(medianInterval(oneTo(1000))).toMatchObject({ low: 469, high: 532 });
});

test('needs six values', () => {
  expect(medianInterval(oneTo(5))).toBeNull();
});

test('its error is its longer side', () => {
  expect(medianError({ median: 3, low: 2, high: 7, coverage: 0.96, n: 9 })).toBe(4);
});

test('covers the median of a lopsided distribution as often as it says', () => {
  let covered = 0;
  for (let seed = 0; seed < 2000; seed += 1) {
    const random = seedRandom(seed);
    const found = medianInterval(Array.from({ length: 10 }, () => nextUniform(random) ** 3));
    if (found !== null && found.low <= 0.125 && found.high >= 0.125) covered += 1;
  }
  // 0.9785 of 2000, give or take three sds of 6.5.
  expect(Math.abs(covered - 1957)).toBeLessThan(20);
});
