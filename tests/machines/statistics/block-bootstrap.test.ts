import { describe, expect, it } from 'vitest';
import {
  BLOCKS,
  BlockQuantiles,
  BlockSums,
  blockHalfWidths,
  lastLength,
  type Resample,
} from '../../../machines/statistics/block-bootstrap.ts';
import { nextNormal, nextUniform, seedRandom } from '../../../machines/statistics/random.ts';
import { quantile } from '../../../machines/statistics/summary.ts';

const values = (n: number, seed: number) => {
  const random = seedRandom(seed);
  return Array.from({ length: n }, () => nextNormal(random));
};
/** The half-width of a column's mean. */
const meanWidth = (column: readonly number[]) => {
  const sums = new BlockSums([column]);
  const [width] = blockHalfWidths(column.length, (one) => {
    sums.draw(one);
    return [sums.sumOf(0) / column.length];
  });
  return width ?? Number.NaN;
};
/** A drawn series, value by value. */
const drawn = (column: readonly number[], starts: Resample) =>
  [...starts].flatMap((start, block) =>
    Array.from(
      { length: block === starts.length - 1 ? lastLength(column.length) : BLOCKS.length },
      (_, index) => column[(start + index) % column.length] ?? Number.NaN,
    ),
  );

const SHARES = [0, 0.25, 0.5, 0.75, 1, 0.1];

describe('a drawn series', () => {
  const column = values(23, 1);
  const seen: Resample[] = [];
  blockHalfWidths(column.length, (starts) => {
    seen.push(starts.slice());
    return [];
  });
  it('has as many values as the series, whatever does not fill a block', () => {
    expect(seen).toHaveLength(BLOCKS.resamples);
    expect(seen.every((one) => drawn(column, one).length === 23)).toBe(true);
  });
  it('has the sums and the quantiles of its values', () => {
    const other = values(23, 2);
    // Columns that are the same are summed once, and each still has its sum.
    const sums = new BlockSums([column, other, column]);
    const quantiles = new BlockQuantiles(column);
    for (const one of seen) {
      const list = drawn(column, one);
      const total = (of: readonly number[]) => drawn(of, one).reduce((sum, value) => sum + value, 0);
      sums.draw(one);
      for (const [place, of] of [column, other, column].entries())
        expect(sums.sumOf(place)).toBeCloseTo(total(of), 9);
      expect(quantiles.over(one, SHARES)).toEqual(
        SHARES.map((p) => expect.closeTo(quantile(list, p) ?? Number.NaN, 12)),
      );
    }
  });
  it('draws each value as often as any other', () => {
    const times = new Map<number, number>();
    for (const one of seen)
      for (const value of drawn(column, one)) times.set(value, (times.get(value) ?? 0) + 1);
    // 1000 times each, give or take four sds of at most √(1000 × 5).
    expect([...times.values()].filter((count) => Math.abs(count - 1000) > 285)).toEqual([]);
    expect(times.size).toBe(23);
  });
});

describe('the half-width', () => {
  it('of the mean of independent values is on average near t × their standard error', () => {
    const widths = Array.from({ length: 60 }, (_, seed) => meanWidth(values(100, seed)));
    // k = 20: t(19) = 2.093; 2.093 ÷ √100 = 0.209. √(20/19) makes up for what drawing with replacement loses.
    const average = widths.reduce((sum, width) => sum + width, 0) / widths.length;
    expect(average).toBeGreaterThan(0.19);
    expect(average).toBeLessThan(0.22);
  });
  it('is greater for a series whose neighbours hang together', () => {
    const random = seedRandom(3);
    let x = 0;
    const series = Array.from({ length: 200 }, () => {
      x = 0.5 * x + nextNormal(random);
      return x;
    });
    const shuffled = [...series].sort(() => nextUniform(random) - 0.5);
    // With an autocorrelation of 0.5, blocks of five see a variance of 1 + 2 Σ (1 − j/5) 0.5ʲ = 2.25 times: 1.5 times the width.
    expect(meanWidth(series) / meanWidth(shuffled)).toBeGreaterThan(1.25);
  });
  it('is the same each time, and NaN where a drawn series had no figure', () => {
    const column = values(20, 4);
    const once = () => blockHalfWidths(20, (starts) => [column[starts[0] ?? 0] ?? 0, Number.NaN, 7]);
    expect(once()).toEqual(once());
    expect(once().slice(1)).toEqual([Number.NaN, 0]);
  });
  it.each([
    [20, 5],
    [21, 1],
    [24, 4],
    [25, 5],
  ])('of %i values is from a last block of %i', (n, length) => {
    expect(lastLength(n)).toBe(length);
  });
  it('needs twenty values', () => {
    expect(() => blockHalfWidths(19, () => [1])).toThrow('19 values, 20 are needed');
  });
});
