import { expect, test } from 'vitest';
import {
  correctionsFor,
  correctionToBeat,
  moveAt,
  nextTick,
} from '../../../machines/rehearsal/timing-model.ts';
import { seedRandom } from '../../../machines/statistics/random.ts';

/** Autocovariances g(0) to g(last), divisor N, about the mean. */
function autocovariances(values: readonly number[], last: number): number[] {
  const centre = values.reduce((a, b) => a + b, 0) / values.length;
  const deviations = values.map((value) => value - centre);
  return Array.from({ length: last + 1 }, (_, lag) => {
    let sum = 0;
    for (let k = lag; k < deviations.length; k += 1) sum += (deviations[k] ?? 0) * (deviations[k - lag] ?? 0);
    return sum / deviations.length;
  });
}

/** Onsets of one person alone: a tick, and a movement for each. */
function alone(count: number, clockSdMs: number, motorSdMs: number, seed: number): number[] {
  const random = seedRandom(seed);
  let tick = 0;
  return Array.from({ length: count }, () => {
    const onset = moveAt(tick, motorSdMs, random);
    tick = nextTick(tick, 500, clockSdMs, random);
    return onset;
  });
}

/** Asynchronies of two who correct towards each other once a cycle. */
function together(
  count: number,
  gains: [number, number],
  clockSds: [number, number],
  motorSds: [number, number],
): number[] {
  const random = seedRandom(11);
  let [a, b] = [0, 0];
  return Array.from({ length: count }, () => {
    const asynchrony = moveAt(a, motorSds[0], random) - moveAt(b, motorSds[1], random);
    const { compressorMs, ventilatorMs } = correctionsFor(asynchrony, {
      compressor: gains[0],
      ventilator: gains[1],
    });
    a = nextTick(a, 2000, clockSds[0], random, compressorMs);
    b = nextTick(b, 2000, clockSds[1], random, ventilatorMs);
    return asynchrony;
  });
}

/** Largest relative error among the values got. */
const worst = (got: readonly number[], expected: readonly number[]) =>
  Math.max(...expected.map((value, k) => Math.abs((got[k] ?? Number.NaN) - value) / Math.abs(value)));

test('alone, intervals have the variance and the lag-1 covariance of the two-level model, and none beyond', () => {
  // Check file 3.1: s_C = 20, s_M = 10 give g(0) = 600, g(1) = -100, rho = -0.1667, g(2) = 0.
  const onsets = alone(400_001, 20, 10, 5);
  const [g0 = 0, g1 = 0, g2 = 0] = autocovariances(
    onsets.slice(1).map((on, k) => on - (onsets[k] ?? 0)),
    2,
  );
  expect(worst([g0, g1], [600, -100])).toBeLessThan(0.02);
  expect(Math.abs(g1 / g0 + 1 / 6)).toBeLessThan(0.005);
  expect(Math.abs(g2)).toBeLessThan(4);
});

test('a minute of intervals scatters about that correlation as the check file says', () => {
  // Check file 3.1 [C], N = 100: mean rho(1) -0.168, SD 0.094, 3.5 % above 0. Here 2,000 runs: four standard errors of the mean are 0.0084.
  const rhos = Array.from({ length: 2000 }, (_, seed) => {
    const onsets = alone(101, 20, 10, seed);
    const [g0 = 1, g1 = 0] = autocovariances(
      onsets.slice(1).map((on, k) => on - (onsets[k] ?? 0)),
      1,
    );
    return g1 / g0;
  });
  const [variance = 0] = autocovariances(rhos, 0);
  expect(Math.abs(rhos.reduce((a, b) => a + b, 0) / rhos.length + 0.168)).toBeLessThan(0.0095);
  expect(Math.abs(Math.sqrt(variance) - 0.094)).toBeLessThan(0.008);
  expect(rhos.filter((rho) => rho > 0).length / rhos.length).toBeCloseTo(0.035, 1);
});

test('two who correct by 0.3 each have the asynchrony variance that the check file gives', () => {
  // Check file 3.3 [C]: s_T 10 and s_M 5 each -> Var(D) 309.52, lag 1 73.81, lag 2 29.52.
  const got = autocovariances(together(1_000_000, [0.3, 0.3], [10, 10], [5, 5]), 2);
  expect(worst(got, [309.52, 73.81, 29.52])).toBeLessThan(0.015);
});

test.each([
  [0.3, [225.49, 132.84, 92.99]],
  [0.9, [146.46, -10.35, -1.04]],
  [1.2, [166.67, -58.33, 11.67]],
])('one who corrects by %d towards an even pacer has the covariances of check file 3.2', (gain, expected) => {
  const got = autocovariances(together(1_000_000, [gain, 0], [10, 0], [5, 0]), 2);
  // Absolute error: the smallest expected value is 1.04 and the standard error of a covariance here about 0.2.
  expect(Math.max(...expected.map((value, k) => Math.abs((got[k] ?? 0) - value)))).toBeLessThan(1);
});

test('a late breath makes the compressor wait and the ventilator hurry; a wild one moves nobody further', () => {
  const gains = { compressor: 0.25, ventilator: 0.5 };
  expect(correctionsFor(-40, gains)).toEqual({ compressorMs: 10, ventilatorMs: -20 });
  expect(correctionsFor(-4000, gains)).toEqual(correctionsFor(-200, gains));
  expect(correctionToBeat(40, 0.5)).toBe(-20);
  expect(correctionToBeat(-4000, 0.5)).toBe(100);
});
