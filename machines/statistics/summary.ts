import { mean as arithmeticMean, quantile as quantileType7 } from 'd3-array';

/**
 * Means, spreads and quantiles of plain lists of finite numbers. Every function gives null, never NaN,
 * when there are too few values to say (the least counts are design section 5's).
 * d3-array computes the mean and the quantiles. Its `deviation` is one-pass (Welford) and misses two of
 * NIST's certified standard deviations by 4e-13 and 9e-13, where 1e-13 is asked, so the spread is a corrected two-pass.
 */

/** The fewest values from which a figure is given. */
const LEAST = { mean: 1, sd: 2, iqr: 4 } as const;

/** Arithmetic mean, in the unit of the values; null when there are none. */
export function mean(values: readonly number[]): number | null {
  return values.length < LEAST.mean ? null : (arithmeticMean(values) ?? null);
}

/**
 * Sample standard deviation (n − 1), in the unit of the values; null under two values.
 * Corrected two-pass (Chan, Golub and LeVeque 1983): the second sum takes out what rounding left in the mean.
 */
export function sampleSd(values: readonly number[]): number | null {
  const centre = mean(values);
  if (centre === null || values.length < LEAST.sd) return null;
  let squares = 0;
  let remainder = 0;
  for (const value of values) {
    const deviation = value - centre;
    squares += deviation * deviation;
    remainder += deviation;
  }
  const sum = squares - (remainder * remainder) / values.length;
  return Math.sqrt(Math.max(0, sum) / (values.length - 1));
}

/**
 * Quantile of Hyndman and Fan's type 7 (the default of R and numpy) for p from 0 to 1, in the unit of the values;
 * null when there are none. The values need no order and keep theirs.
 */
export function quantile(values: readonly number[], p: number): number | null {
  return values.length < LEAST.mean ? null : (quantileType7(values, p) ?? null);
}

/** Median (type 7), in the unit of the values; null when there are none. */
export function median(values: readonly number[]): number | null {
  return quantile(values, 0.5);
}

/** Third quartile less the first (type 7), in the unit of the values, never negative; null under four values. */
export function interquartileRange(values: readonly number[]): number | null {
  if (values.length < LEAST.iqr) return null;
  const low = quantile(values, 0.25);
  const high = quantile(values, 0.75);
  return low === null || high === null ? null : high - low;
}
