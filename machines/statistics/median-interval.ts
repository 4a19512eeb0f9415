import { median } from './summary.ts';

/**
 * The median of a sample with its interval by ranks, which supposes nothing of the distribution: the r-th value and
 * the r-th from the end, r the greatest with a coverage of at least 95 % by the binomial distribution of one half
 * (any text on order statistics: P(X(r) < median < X(n+1−r)) = 1 − 2 P(Binomial(n, ½) < r)).
 */
export type MedianInterval = {
  /** In the unit of the values, as are `low` and `high`. */
  median: number;
  low: number;
  high: number;
  /** What the interval covers of repeated samples, at least 0.95 and below 1. */
  coverage: number;
  n: number;
};

/** Under six values even the whole range covers less than 95 %. */
export const FEWEST_FOR_MEDIAN_INTERVAL = 6;
const WANTED_COVERAGE = 0.95;
/** Over this 2⁻ⁿ comes near the smallest number there is. */
const MOST_FOR_BINOMIAL = 500;

/** The median and its interval; null under six values. The values need no order and keep theirs. */
export function medianInterval(values: readonly number[]): MedianInterval | null {
  const n = values.length;
  const middle = median(values);
  if (middle === null || n < FEWEST_FOR_MEDIAN_INTERVAL) return null;
  const { rank, coverage } = ranksFor(n);
  const sorted = [...values].sort((one, other) => one - other);
  return { median: middle, low: sorted[rank - 1] ?? middle, high: sorted[n - rank] ?? middle, coverage, n };
}

/** Half of the interval's width on its longer side: how far off the median may be, in the unit of the values. */
export function medianError({ median: middle, low, high }: MedianInterval): number {
  return Math.max(high - middle, middle - low);
}

/** The rank from either end (from 1), and what it covers. Binomial up to `MOST_FOR_BINOMIAL`, then its normal shape. */
function ranksFor(n: number): { rank: number; coverage: number } {
  if (n > MOST_FOR_BINOMIAL)
    return { rank: Math.floor((n - 1.96 * Math.sqrt(n)) / 2), coverage: WANTED_COVERAGE };
  let term = 0.5 ** n;
  let below = term;
  let rank = 1;
  for (;;) {
    term *= (n - rank + 1) / rank;
    if (1 - 2 * (below + term) < WANTED_COVERAGE) return { rank, coverage: 1 - 2 * below };
    below += term;
    rank += 1;
  }
}
