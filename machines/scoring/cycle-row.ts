import type { Guidance, Tolerance } from '../journal.ts';
import type { Us } from '../units.ts';

/** A press of a row. `onUs` counts from the row's start; `offUs` too, and can lie past the row's end. */
export type RowPress = { onUs: Us; offUs: Us; isMeasured: boolean };

/** Breaths of a row that clash, by which fault, breaths let go late, and time shared with compressions. */
export type RowClash = {
  count: number;
  byBreath: number;
  byCompression: number;
  letGoLate: number;
  overlapUs: Us;
};

/** A complete cycle: what every figure is made from. */
export type CycleRow = {
  startUs: Us;
  lengthUs: Us;
  /** T, the cycle's ideal length when it started. */
  idealUs: Us;
  /** Guidance at the start. */
  guidance: Guidance;
  /** True when a guidance call fell into the cycle: it is left out of led against unled. */
  guidanceChanged: boolean;
  compressions: readonly RowPress[];
  breaths: readonly RowPress[];
  clash: RowClash;
};

/** The timing of an exact cycle: three compressions and a breath. Microseconds. */
export type ExactTiming = { firstIntervalUs: Us; secondIntervalUs: Us; lagUs: Us; breathUs: Us };

/** Tool defaults: how far from ideal a coordinated cycle may be, in hundredths of T. */
export const TOLERANCE_HUNDREDTHS: Record<Tolerance, { interval: number; length: number }> = {
  standard: { interval: 6, length: 10 },
  first: { interval: 10, length: 15 },
};

/** The intervals and lag of an exact cycle; null when the cycle is not three compressions and a breath. */
export function exactTiming(row: CycleRow): ExactTiming | null {
  if (row.compressions.length !== 3 || row.breaths.length !== 1) return null;
  const [first, second, third] = row.compressions;
  const breath = row.breaths[0];
  if (!first || !second || !third || !breath) return null;
  return {
    firstIntervalUs: second.onUs - first.onUs,
    secondIntervalUs: third.onUs - second.onUs,
    lagUs: breath.onUs - third.onUs,
    breathUs: breath.onUs,
  };
}

/** Is a length within so many hundredths of T of the ideal, which is T ÷ `parts`? Exact, in whole numbers. */
export function isNear(lengthUs: Us, idealUs: Us, parts: number, hundredths: number): boolean {
  return 100 * Math.abs(parts * lengthUs - idealUs) <= parts * hundredths * idealUs;
}

/** Is the breath's lag between 0.6 and 1.4 of the mean interval of its triplet (tool default)? */
export function isLagInPlace(timing: ExactTiming): boolean {
  const twoIntervalsUs = timing.firstIntervalUs + timing.secondIntervalUs;
  return 10 * timing.lagUs >= 3 * twoIntervalsUs && 10 * timing.lagUs <= 7 * twoIntervalsUs;
}

/** Is the cycle coordinated: exact, without a clash, and every press in its place? */
export function isCoordinated(row: CycleRow, tolerance: Tolerance): boolean {
  const timing = exactTiming(row);
  if (timing === null || row.clash.count > 0) return false;
  const limit = TOLERANCE_HUNDREDTHS[tolerance];
  return (
    isNear(timing.firstIntervalUs, row.idealUs, 4, limit.interval) &&
    isNear(timing.secondIntervalUs, row.idealUs, 4, limit.interval) &&
    isNear(row.lengthUs, row.idealUs, 1, limit.length) &&
    isLagInPlace(timing)
  );
}
