import { orderStatistic } from './order-statistic.ts';

/**
 * Theil–Sen slope with Sen's interval: how fast y changes with x, little moved by single wild points.
 * Sen PK, Estimates of the regression coefficient based on Kendall's tau, J Am Stat Assoc 1968;63:1379-1389.
 */

/** `slope`, `low`, `high` are in units of y for one of x. */
export type TheilSen = {
  /** Median of the pairwise slopes; null when no two points differ in x. */
  slope: number | null;
  /** Ends of the 95 % interval; null with `slope`, and over `MOST_FOR_ALL_PAIRS` points. */
  low: number | null;
  high: number | null;
};

/** Over this many points only the pairs half the run apart are taken, and no interval is given (our choice: n² slopes grow too slow and too large). */
const MOST_FOR_ALL_PAIRS = 1000;
/** Two-sided 95 % of the normal distribution, to the digits of design section 5. */
const Z_95 = 1.96;
const NOT_KNOWN: TheilSen = { slope: null, low: null, high: null };

/**
 * Slope and 95 % interval of the points (xs[k], ys[k]), in any order; pairs with equal x are passed over.
 * The interval takes the slopes of 1-based ranks ⌊(N − C)/2⌋ and ⌈(N + C)/2⌉ + 1 of the N kept,
 * C = 1.96 √(n(n−1)(2n+5)/18), held within 1 to N: with a handful of points it is all of their slopes, and means little.
 * There is no correction for ties. Throws a RangeError when the lists differ in length.
 */
export function theilSen(xs: readonly number[], ys: readonly number[]): TheilSen {
  if (xs.length !== ys.length)
    throw new RangeError(`${xs.length} x values and ${ys.length} y values make no points`);
  const isAllPairs = xs.length <= MOST_FOR_ALL_PAIRS;
  const slopes = isAllPairs ? slopesOfAllPairs(xs, ys) : slopesOfHalfPairs(xs, ys);
  const count = slopes.length;
  if (count === 0) return NOT_KNOWN;
  const middle = (count - 1) / 2;
  const below = Math.floor(middle);
  const above = Math.ceil(middle);
  const lower = orderStatistic(slopes, below, 0, count - 1);
  const upper = above === below ? lower : orderStatistic(slopes, above, above, count - 1);
  const slope = lower + (upper - lower) / 2;
  if (!isAllPairs) return { slope, low: null, high: null };
  const width = Z_95 * Math.sqrt((xs.length * (xs.length - 1) * (2 * xs.length + 5)) / 18);
  const lowRank = Math.max(1, Math.floor((count - width) / 2));
  const highRank = Math.min(count, Math.ceil((count + width) / 2) + 1);
  return {
    slope,
    low: orderStatistic(slopes, lowRank - 1, 0, below),
    high: orderStatistic(slopes, highRank - 1, above, count - 1),
  };
}

function slopesOfAllPairs(xs: readonly number[], ys: readonly number[]): Float64Array {
  const x = Float64Array.from(xs);
  const y = Float64Array.from(ys);
  const slopes = new Float64Array((x.length * (x.length - 1)) / 2);
  let count = 0;
  for (const [i, xi] of x.entries()) {
    const yi = y[i] ?? 0;
    for (let j = i + 1; j < x.length; j += 1) {
      const run = (x[j] ?? 0) - xi;
      if (run !== 0) slopes[count++] = ((y[j] ?? 0) - yi) / run;
    }
  }
  return slopes.subarray(0, count);
}

function slopesOfHalfPairs(xs: readonly number[], ys: readonly number[]): Float64Array {
  const apart = Math.ceil(xs.length / 2);
  const slopes = new Float64Array(xs.length - apart);
  let count = 0;
  for (let k = 0; k + apart < xs.length; k += 1) {
    const run = (xs[k + apart] ?? 0) - (xs[k] ?? 0);
    if (run !== 0) slopes[count++] = ((ys[k + apart] ?? 0) - (ys[k] ?? 0)) / run;
  }
  return slopes.subarray(0, count);
}
