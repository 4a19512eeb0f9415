import { describe, expect, test } from 'vitest';
import {
  interquartileRange,
  mean,
  median,
  quantile,
  sampleSd,
} from '../../../machines/statistics/summary.ts';
import { NIST_SETS } from './nist-data.ts';

const relativeError = (got: number | null, certified: number) =>
  got === null ? Number.POSITIVE_INFINITY : Math.abs(got - certified) / Math.abs(certified);

test('all nine NIST sets are there, with the sizes NIST gives', () => {
  const sizes = Object.fromEntries(NIST_SETS.map(({ name, values }) => [name, values.length]));
  expect(sizes).toEqual({
    PiDigits: 5000,
    Lottery: 218,
    Lew: 200,
    Mavro: 50,
    Michelso: 100,
    NumAcc1: 3,
    NumAcc2: 1001,
    NumAcc3: 1001,
    NumAcc4: 1001,
  });
});

describe.each(NIST_SETS)('NIST $name', ({ values, mean: certifiedMean, sd, lag1, sdTolerance }) => {
  test('has its certified mean, to 14 digits', () => {
    expect(relativeError(mean(values), certifiedMean)).toBeLessThan(1e-14);
  });

  test(`has its certified standard deviation, to a relative ${sdTolerance}`, () => {
    expect(relativeError(sampleSd(values), sd)).toBeLessThan(sdTolerance);
  });

  test('is the data NIST certified: its lag-1 autocorrelation comes out too', () => {
    const deviations = values.map((value) => value - certifiedMean);
    const products = deviations.map((value, k) => value * (deviations[k + 1] ?? 0));
    const sum = (list: number[]) => list.reduce((a, b) => a + b, 0);
    expect(relativeError(sum(products) / sum(deviations.map((d) => d * d)), lag1)).toBeLessThan(1e-8);
  });
});

describe('quantiles, type 7', () => {
  // R's own output for quantile(w, type = 7), as printed in a question about that formula (codewithsundeep.com/discussion/solution/15329408).
  const published = [75, 64, 47.4, 66.9, 62.2, 62.2, 58.7, 63.5, 66.6, 64, 57, 69, 56.9, 50, 72.0];
  // numpy 2.4.6: numpy.quantile(mixed, p, method='linear').
  const mixed = [3.2, -1.5, 7.75, 0.1, 12.0, 4.4, 4.4, -8.25, 2.0, 5.5];

  test.each([
    [0, 47.4],
    [0.25, 57.85],
    [0.5, 63.5],
    [0.75, 66.75],
    [1, 75],
  ])('R: %d of the published example is %d', (p, expected) => {
    expect(quantile(published, p)).toBeCloseTo(expected, 12);
  });

  test.each([
    [0, -8.25],
    [0.01, -7.6425],
    [0.1, -2.175],
    [1 / 3, 2.0],
    [0.5, 3.8],
    [0.9, 8.175],
    [0.975, 11.04375],
    [1, 12],
  ])('numpy: %d is %d', (p, expected) => {
    expect(quantile(mixed, p)).toBeCloseTo(expected, 12);
  });

  test('the interquartile range is the third quartile less the first', () => {
    expect(interquartileRange(published)).toBeCloseTo(66.75 - 57.85, 12);
    // numpy 2.4.6, first four of `mixed`: quartiles -0.3 and 4.3375.
    expect(interquartileRange(mixed.slice(0, 4))).toBeCloseTo(4.6375, 12);
  });

  test('the list keeps its order', () => {
    const before = [...mixed];
    median(mixed);
    expect(mixed).toEqual(before);
  });
});

test('too few values to say give null, never NaN', () => {
  expect([mean([]), median([]), quantile([], 0.5)]).toEqual([null, null, null]);
  expect([mean([7]), median([7])]).toEqual([7, 7]);
  expect([sampleSd([]), sampleSd([7]), sampleSd([7, 9])]).toEqual([null, null, Math.SQRT2]);
  expect([interquartileRange([1, 2, 3]), interquartileRange([1, 2, 3, 4])]).toEqual([null, 1.5]);
});

test('values that do not vary have no spread', () => {
  expect(sampleSd([500, 500, 500])).toBe(0);
  expect(sampleSd(Array.from({ length: 10 }, () => 0.1))).toBeCloseTo(0, 15);
});
