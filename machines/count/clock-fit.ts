import { mean, median } from '../statistics/summary.ts';
import type { Ms } from '../units.ts';

/** Seconds on an audio context's clock. */
export type Seconds = number;
/** The same instant on the two clocks, as far as they could be read together. */
export type ClockPair = { audioS: Seconds; drillMs: Ms };
export type ClockFit = {
  drillMsAt: (audioS: Seconds) => Ms;
  audioSAt: (drillMs: Ms) => Seconds;
  msPerSecond: Ms;
  /** Standard deviation of a pair about the line, robust, ms. */
  spreadMs: Ms;
  /** Half the width of the 95 % interval of the line at an audio time, ms; what all pairs share is not in it. */
  errorMsAt: (audioS: Seconds) => Ms;
};

const NOMINAL_MS_PER_SECOND = 1000;
/**
 * What is known of two clocks before they are measured: crystals are within some 100 ppm of each other (0.1 ms a
 * second). Few pairs hold the line near that, many pairs outweigh it. Our choice; 200 ppm is two of these.
 */
const DRIFT_SD_MS_PER_SECOND = 0.1;
/** No line is trusted closer than a page clock's own step of 0.1 ms (0.029 ms sd); rounded up. */
const MIN_SPREAD_MS = 0.05;
/** A single pair tells no spread: half a large output buffer, our choice. */
const UNKNOWN_SPREAD_MS = 3;
/** Pairs further out than three robust spreads are left out of the line. */
const OUTLIER_SPREADS = 3;
/** From the median absolute deviation to a standard deviation, for normal errors. */
const MAD_TO_SD = 1.4826;
const Z_95 = 1.96;

/**
 * The line through clock pairs: a first guess by the median slope of pairs half the window apart, which a few wild
 * pairs cannot turn, then least squares over the pairs near it, with the drift held to what crystals do. Null without
 * a pair.
 */
export function fitClocks(pairs: readonly ClockPair[]): ClockFit | null {
  const origin = pairs[0];
  if (origin === undefined) return null;
  // About the first pair and the nominal speed, so that no digits are lost over hours.
  const points = pairs.map(({ audioS, drillMs }) => {
    const x = audioS - origin.audioS;
    return { x, y: drillMs - origin.drillMs - x * NOMINAL_MS_PER_SECOND };
  });
  const { near, spread } = withoutOutliers(points);
  const meanX = mean(near.map(({ x }) => x)) ?? 0;
  const meanY = mean(near.map(({ y }) => y)) ?? 0;
  const sxx = near.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  const sxy = near.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  const held = sxx + (spread / DRIFT_SD_MS_PER_SECOND) ** 2;
  const drift = sxy / held;
  const msPerSecond = NOMINAL_MS_PER_SECOND + drift;
  // Where the line passes through the middle of the pairs.
  const middleS = origin.audioS + meanX;
  const middleMs = origin.drillMs + meanX * NOMINAL_MS_PER_SECOND + meanY;
  return {
    drillMsAt: (audioS) => middleMs + (audioS - middleS) * msPerSecond,
    audioSAt: (drillMs) => middleS + (drillMs - middleMs) / msPerSecond,
    msPerSecond,
    spreadMs: spread,
    errorMsAt: (audioS) => Z_95 * spread * Math.sqrt(1 / near.length + (audioS - middleS) ** 2 / held),
  };
}

type Point = { x: Seconds; y: Ms };

function withoutOutliers(points: readonly Point[]): { near: readonly Point[]; spread: Ms } {
  const slope = medianSlope(points);
  const flat = points.map(({ x, y }) => y - slope * x);
  const level = median(flat) ?? 0;
  const distances = flat.map((value) => Math.abs(value - level));
  const spread =
    points.length < 3 ? UNKNOWN_SPREAD_MS : Math.max(MIN_SPREAD_MS, MAD_TO_SD * (median(distances) ?? 0));
  const near = points.filter((_, index) => (distances[index] ?? 0) <= OUTLIER_SPREADS * spread);
  return { near: near.length === 0 ? points : near, spread };
}

/** Median slope of the pairs (k, k + n/2), held to three times the drift of crystals. */
function medianSlope(points: readonly Point[]): number {
  const half = Math.ceil(points.length / 2);
  const slopes = points.slice(half).flatMap((late, index) => {
    const early = points[index];
    return early === undefined || late.x === early.x ? [] : [(late.y - early.y) / (late.x - early.x)];
  });
  const most = 3 * DRIFT_SD_MS_PER_SECOND;
  return slopes.length === 0 ? 0 : Math.min(most, Math.max(-most, median(slopes) ?? 0));
}
