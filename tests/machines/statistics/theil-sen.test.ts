import fc from 'fast-check';
import { TheilSenRegression } from 'ml-regression-theil-sen';
import { describe, expect, test } from 'vitest';
import { orderStatistic } from '../../../machines/statistics/order-statistic.ts';
import { theilSen } from '../../../machines/statistics/theil-sen.ts';

/** Cycle starts and lengths without ties, the same as were given to scipy. */
function cycles(n: number): { xs: number[]; ys: number[] } {
  const ks = Array.from({ length: n }, (_, k) => k);
  return {
    xs: ks.map((k) => k * 2000 + ((k * k * 37) % 101)),
    ys: ks.map((k) => 2000 + k * 1.5 + (((k * k * k + 7 * k) * 7919) % 10007) / 100),
  };
}

describe('against scipy 1.17.1, scipy.stats.theilslopes(ys, xs, 0.95)', () => {
  // scipy rounds (N - C)/2 and (N + C)/2 where the design takes floor and ceiling; at these sizes both give the same ranks:
  // n = 28: 139.396 and 238.604 -> 139, 240; n = 60: 731.35 and 1038.65 -> 731, 1040; n = 75: 1173.26 and 1601.74 -> 1173, 1603.
  test.each([
    [28, 0.0010091824176959151, 8.921127230283173e-5, 0.0018995006242197292],
    [60, 0.0007693128403094172, 0.0005451801546877965, 0.0010046734050646723],
    [75, 0.0006811947713119096, 0.0005261765483994265, 0.0008420068421663],
  ])('%d points: slope and interval', (n, slope, low, high) => {
    const { xs, ys } = cycles(n);
    const got = theilSen(xs, ys);
    expect(got.slope).toBeCloseTo(slope, 15);
    expect(got.low).toBeCloseTo(low, 15);
    expect(got.high).toBeCloseTo(high, 15);
  });

  test('15 points, where the rules part: the interval is one slope wider at each end', () => {
    // (N - C)/2 = 32.70 and (N + C)/2 = 72.30: ranks 32 and 74 here, 33 and 73 in scipy. Its sorted slopes have these at 32 and 74.
    const { xs, ys } = cycles(15);
    const got = theilSen(xs, ys);
    expect(got.slope).toBeCloseTo(0.0013752292048674589, 15);
    expect(got.low).toBeCloseTo(-0.0012352550257518147, 15);
    expect(got.high).toBeCloseTo(0.0037700218136490983, 15);
  });
});

test('the worked example of the R package statpsych (ci.theil): slope 0.5, its 95 % interval 0.324 to 0.75 inside ours', () => {
  // x is 28 three times and 40 twice: 105 - 3 - 1 = 101 of the pairs have a slope. statpsych allows for ties, which narrows its interval.
  const xs = [67, 28, 30, 28, 52, 40, 25, 37, 44, 10, 14, 20, 28, 40, 51];
  const ys = [21, 4, 9, 12, 35, 18, 10, 22, 24, 1, 6, 8, 13, 16, 19];
  const { slope, low, high } = theilSen(xs, ys);
  expect(slope).toBe(0.5);
  expect(low).toBeLessThanOrEqual(0.3243243);
  expect(high).toBeGreaterThanOrEqual(0.75);
});

test('the slope is that of ml-regression-theil-sen 3.0.0, where an odd number of slopes has one middle', () => {
  // Of an even number that package takes the lower middle one (median-quickselect), not the mean of both as type 7 does:
  // so 3 to 39 points with n(n - 1)/2 odd, and no equal x.
  const sizes = Array.from({ length: 40 }, (_, n) => n).filter((n) => n > 2 && (n * (n - 1)) % 4 === 2);
  const points = fc
    .constantFrom(...sizes)
    .chain((n) =>
      fc.tuple(
        fc.uniqueArray(fc.integer({ min: 0, max: 500 }), { minLength: n, maxLength: n }),
        fc.array(fc.integer({ min: -500, max: 500 }), { minLength: n, maxLength: n }),
      ),
    );
  fc.assert(
    fc.property(points, ([xs, ys]) => {
      expect(theilSen(xs, ys).slope).toBeCloseTo(new TheilSenRegression(xs, ys).slope, 12);
    }),
  );
});

test('an exact line gives its slope and an interval without width, at every size', () => {
  for (const n of [2, 3, 10, 300, 1000]) {
    const xs = Array.from({ length: n }, (_, k) => k * 2000);
    expect(
      theilSen(
        xs,
        xs.map((x) => x / 2000),
      ),
    ).toEqual({ slope: 0.0005, low: 0.0005, high: 0.0005 });
  }
});

test('over 1,000 points the pairs half the run apart give the slope, and there is no interval', () => {
  // n = 1001: pairs (k, k + 501), k = 0 to 499. y rises by 1 each step but has 10,000 more from point 501 on: all 500 slopes are (501 + 10000)/501.
  const xs = Array.from({ length: 1001 }, (_, k) => k);
  const ys = xs.map((x) => (x < 501 ? x : x + 10_000));
  expect(theilSen(xs, ys)).toEqual({ slope: 10_501 / 501, low: null, high: null });
});

test('the order of the points changes nothing', () => {
  const { xs, ys } = cycles(60);
  expect(theilSen(xs.toReversed(), ys.toReversed())).toEqual(theilSen(xs, ys));
});

test('no slope without two points that differ in x; lists that do not match are a mistake', () => {
  const nothing = { slope: null, low: null, high: null };
  expect([theilSen([], []), theilSen([1], [2]), theilSen([5, 5], [1, 2])]).toEqual([
    nothing,
    nothing,
    nothing,
  ]);
  expect(() => theilSen([1, 2], [1])).toThrow('2 x values and 1 y values');
});

test('an order statistic is what sorting would give, and parts the values about it', () => {
  const values = fc.array(fc.double({ noNaN: true, noDefaultInfinity: true }), {
    minLength: 1,
    maxLength: 1500,
  });
  fc.assert(
    fc.property(values, fc.nat(), (list, seed) => {
      const k = seed % list.length;
      const moved = Float64Array.from(list);
      const got = orderStatistic(moved, k, 0, list.length - 1);
      expect(got).toBe(moved[k]);
      expect(moved.subarray(0, k).every((value) => value <= got)).toBe(true);
      expect(moved.subarray(k + 1).every((value) => value >= got)).toBe(true);
      expect(moved.toSorted()).toEqual(Float64Array.from(list).sort());
    }),
  );
});
