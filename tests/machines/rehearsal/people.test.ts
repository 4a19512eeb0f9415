import { describe, expect, test } from 'vitest';
import { DEFAULT_PERSON, drawPair } from '../../../machines/rehearsal/people.ts';
import { type RehearsalOptions, rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { mean, median, sampleSd } from '../../../machines/statistics/summary.ts';
import { theilSen } from '../../../machines/statistics/theil-sen.ts';
import { cycleOf, pressesOf } from './presses.ts';

const still = { ...DEFAULT_PERSON, paceOffPct: 0, driftPctPerMin: 0 };
const steady: RehearsalOptions = {
  seed: 21,
  minutes: 60,
  plan: 'steady',
  stepMs: 0,
  planted: [],
  pair: { A: still, B: still },
};

/** The two intervals, the lag and the start of every whole cycle of three and one. */
function cyclesOf(
  options: RehearsalOptions,
): { i1: number; i2: number; lag: number; start: number; length: number }[] {
  const { lines, truth } = rehearse(options);
  const chest = pressesOf(lines, 'chest').map(({ on }) => on);
  const airway = pressesOf(lines, 'airway').map(({ on }) => on);
  return truth.cycles.slice(0, -1).map((_, k) => {
    const [a = 0, b = 0, c = 0, next = 0] = chest.slice(3 * k, 3 * k + 4);
    return { i1: b - a, i2: c - b, lag: (airway[k] ?? 0) - c, start: a, length: next - a };
  });
}

const sdOf = (values: number[]) => sampleSd(values) ?? Number.NaN;
const meanOf = (values: number[]) => mean(values) ?? Number.NaN;

describe('an hour of a pair whose parameters are given', () => {
  const cycles = cyclesOf(steady);
  const intervals = cycles.flatMap(({ i1, i2 }) => [i1, i2]);
  // Interval variance s_C^2 + 2 s_M^2 = 18^2 + 2 * 8^2 = 452, sd 21.26; about 1,800 cycles, 3,600 intervals.

  test('beats as fast and as unsteadily as they say', () => {
    // Four standard errors: 4 * 21.26 / sqrt(3600) = 1.42 ms, and 21.26 / sqrt(2 * 3600) * 4 = 1.0 ms.
    expect(Math.abs(meanOf(intervals) - 500)).toBeLessThan(1.42);
    expect(Math.abs(sdOf(intervals) - 21.26)).toBeLessThan(1.0);
  });

  test('neighbouring intervals correlate as the two-level model says: -64 / 452 = -0.142', () => {
    const products = cycles.map(({ i1, i2 }) => (i1 - 500) * (i2 - 500));
    // Standard error of a correlation near 0 over 1,800 pairs: 0.024.
    expect(Math.abs(meanOf(products) / sdOf(intervals) ** 2 + 64 / 452)).toBeLessThan(0.08);
  });

  test('the breath comes ahead of its beat by as much as they say', () => {
    // Mean lag 500 - 25 ms. The spread of the lag is about 55 ms and neighbours correlate: four standard errors under 8 ms.
    expect(Math.abs(meanOf(cycles.map(({ lag }) => lag)) - 475)).toBeLessThan(8);
    expect(sdOf(cycles.map(({ lag }) => lag))).toBeLessThan(80);
  });

  test('presses last as long as they say', () => {
    const { lines } = rehearse(steady);
    const lengths = (name: 'chest' | 'airway') => pressesOf(lines, name).map(({ on, off }) => off - on);
    // Standard errors of a median in logarithms: 1.2533 * 0.12 / sqrt(5400) = 0.2 %, and 1.2533 * 0.1 / sqrt(1800) = 0.3 %.
    expect(Math.abs((median(lengths('chest')) ?? 0) / 200 - 1)).toBeLessThan(0.01);
    expect(Math.abs((median(lengths('airway')) ?? 0) / 400 - 1)).toBeLessThan(0.012);
  });
});

test('with no correction towards each other, the breath wanders off; with it, it stays', () => {
  const deaf = { ...still, gainAsCompressor: 0, gainAsVentilator: 0 };
  const spread = (pair: RehearsalOptions['pair']) => {
    const lags = Array.from(
      { length: 40 },
      (_, seed) => cyclesOf({ ...steady, seed, minutes: 1, ...(pair && { pair }) }).at(-1)?.lag ?? 0,
    );
    return sdOf(lags);
  };
  // A random walk of 30 cycles: sqrt(30 * (4 * 18^2 + 34^2)) = 271 ms, against about 55.
  expect(spread({ A: deaf, B: deaf })).toBeGreaterThan(150);
  expect(spread({ A: still, B: still })).toBeLessThan(90);
});

test.each([-1, 0.5, 2])('a pace that changes by %d %% a minute is found again', (driftPctPerMin) => {
  const cycles = cyclesOf({ ...steady, minutes: 8, pair: { A: { ...still, driftPctPerMin }, B: still } });
  const lengths = cycles.map(({ length }) => length);
  const { slope, low, high } = theilSen(
    cycles.map(({ start }) => start),
    lengths,
  );
  const perMinute = (value: number | null) =>
    (((value ?? Number.NaN) * 60_000) / (median(lengths) ?? 1)) * 100;
  expect(Math.abs(perMinute(slope) - driftPctPerMin)).toBeLessThan(0.25);
  expect(perMinute(low)).toBeLessThan(perMinute(slope));
  expect(perMinute(high)).toBeGreaterThan(perMinute(slope));
});

test('a pace off by 3 % shows when unled and is held to the count when led', () => {
  const fast = { A: { ...still, paceOffPct: -3 }, B: still };
  const meanLength = (guidance: 'led' | 'unled') =>
    meanOf(cyclesOf({ ...steady, minutes: 20, guidance, pair: fast }).map(({ length }) => length));
  expect(Math.abs(meanLength('unled') - 1940)).toBeLessThan(6);
  expect(Math.abs(meanLength('led') - 2000)).toBeLessThan(0.5);
});

test('weaned, the count is there at the start only', () => {
  const fast = { A: { ...still, paceOffPct: -6 }, B: still };
  const cycles = cyclesOf({ ...steady, minutes: 2, guidance: 'weaned', pair: fast });
  const lengths = cycles.map(({ i1, i2 }) => (i1 + i2) / 2);
  expect(meanOf(lengths.slice(0, 6))).toBeGreaterThan(485);
  expect(meanOf(lengths.slice(6))).toBeLessThan(480);
});

test('two people drawn from a seed differ, and what is given of them is kept', () => {
  const { A, B } = drawPair(4, { B: { clockSdMs: 30 } });
  expect(A.clockSdMs).not.toBe(drawPair(5).A.clockSdMs);
  expect(A.paceOffPct).not.toBe(B.paceOffPct);
  expect(B.clockSdMs).toBe(30);
  expect(drawPair(4, { B: { clockSdMs: 30 } }).A).toEqual(drawPair(4).A);
});

test('drawn people are people: most cycles are near two seconds, and no two are alike', () => {
  const lengths = Array.from({ length: 30 }, (_, seed) =>
    cyclesOf({ seed, minutes: 2, plan: 'steady', planted: [] }),
  ).flatMap((cycles) => cycles.map(({ length }) => length));
  expect(lengths.filter((length) => Math.abs(length - 2000) <= 200).length / lengths.length).toBeGreaterThan(
    0.9,
  );
  expect(new Set(lengths).size).toBeGreaterThan(100);
});

test('a cycle is its own three compressions and breath', () => {
  const { chest, airway } = cycleOf(rehearse(steady), 7);
  expect([chest.length, airway.length]).toEqual([3, 1]);
});
