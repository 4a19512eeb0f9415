import { type NoFigure, none } from '../scoring/figure.ts';
import type { Ms } from '../units.ts';
import type { SwitchStamp } from './contacts.ts';

/**
 * The step a device's times come in, found from its stamps: all intervals between them are multiples of it, give or
 * take some jitter. For every step q the mean of cos(2π interval ÷ q) is 1 when that is so and near 0 when not; it is
 * exp(−4π² s² ÷ q²) for stamps with jitter s (the mean resultant length of directional statistics, squared, e.g. Mardia 1972).
 * The greatest step with a mean of a half or more is taken, since every part of a step fits as well as the step does.
 * Intervals are used, not times, so that a device whose clock runs a little off the computer's is still seen.
 */
export type TimeStep = {
  /** 8 for a 125 Hz device, 1 for a 1000 Hz one, 16.7 for a poll at the screen's 60 Hz. */
  stepMs: Ms;
  /** 95 % of the step's own error, by least squares on the multiples. */
  errorMs: Ms;
  /** What stamps are off the step's grid, sd, ms. */
  jitterMs: Ms;
  /** Intervals used. */
  n: number;
};

/** Tool defaults: the intervals of some twenty presses; each long enough to hold the coarsest step and short enough that two clocks agree on it. */
const FEWEST_INTERVALS = 40;
const INTERVAL_MS = { least: 25, most: 1000 } as const;
/** The steps looked for, ms (tool default): from just under 1000 Hz to a slow page; below, only steps that a page's clock is known to have. */
const SCANNED_MS = { least: 0.9, most: 21 } as const;
const CLOCK_STEPS_MS = [0.5, 0.1, 0.005] as const;
/** A mean of a half is over four of its sds (1 ÷ √(2n)) from 0 with the fewest intervals. */
const LEAST_FIT = 0.5;
const CLOCK_FIT = 0.95;
/** With intervals on fewer different multiples than this a person's regular pressing could pass for a step (tool default). */
const FEWEST_MULTIPLES = 5;
const Z_95 = 1.96;

/** The time step of one device, from the stamps of one switch in order, repeats left out. Null when the stamps cannot tell. */
export function timeStepOf(stamps: readonly SwitchStamp[]): TimeStep | NoFigure {
  const times = stamps.filter(({ isRepeat }) => isRepeat !== true).map(({ atMs }) => atMs);
  const intervals = times
    .slice(1)
    .map((ms, index) => ms - (times[index] ?? ms))
    .filter((ms) => ms >= INTERVAL_MS.least && ms <= INTERVAL_MS.most);
  if (intervals.length < FEWEST_INTERVALS)
    return none(`not told: ${intervals.length} of ${FEWEST_INTERVALS} intervals between stamps`);
  const coarse =
    scan(intervals) ?? CLOCK_STEPS_MS.find((stepMs) => agreement(intervals, 1 / stepMs) >= CLOCK_FIT);
  if (coarse === undefined) return none('not told: no step from 0.005 to 20 ms shows');
  const multiples = intervals.map((ms) => Math.round(ms / coarse));
  if (new Set(multiples).size < FEWEST_MULTIPLES) return none('not told: the presses were too alike');
  return leastSquares(intervals, multiples);
}

/** The mean of cos(2π interval × rate): 1 when all intervals are multiples of 1 ÷ rate. */
function agreement(intervals: readonly Ms[], perMs: number): number {
  let sum = 0;
  for (const ms of intervals) sum += Math.cos(2 * Math.PI * ms * perMs);
  return sum / intervals.length;
}

/** The greatest step that fits, at its best fit nearby; undefined when none does. */
function scan(intervals: readonly Ms[]): Ms | undefined {
  const apart = 1 / (4 * Math.max(...intervals));
  for (let perMs = 1 / SCANNED_MS.most; perMs <= 1 / SCANNED_MS.least; perMs += apart) {
    if (agreement(intervals, perMs) < LEAST_FIT) continue;
    const finer = apart / 8;
    let best = perMs;
    while (agreement(intervals, best + finer) > agreement(intervals, best)) best += finer;
    return 1 / best;
  }
  return undefined;
}

function leastSquares(intervals: readonly Ms[], multiples: readonly number[]): TimeStep {
  let products = 0;
  let squares = 0;
  for (const [index, k] of multiples.entries()) {
    products += k * (intervals[index] ?? 0);
    squares += k * k;
  }
  const stepMs = products / squares;
  let off = 0;
  for (const [index, k] of multiples.entries()) off += ((intervals[index] ?? 0) - k * stepMs) ** 2;
  const intervalSd = Math.sqrt(off / intervals.length);
  return {
    stepMs,
    errorMs: (Z_95 * intervalSd) / Math.sqrt(squares),
    jitterMs: intervalSd / Math.SQRT2,
    n: intervals.length,
  };
}
