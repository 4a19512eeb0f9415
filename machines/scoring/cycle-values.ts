import type { Tolerance } from '../journal.ts';
import { type CycleRow, exactTiming, isCoordinated, type RowPress } from './cycle-row.ts';
import { pausesOf, shortReleasesOf, shortSqueezesOf } from './figures.ts';

/** What one cycle gives to a sum: one number a cycle. Times in ms. */
export const COUNTED = [
  'coordinated',
  'compressions',
  'breaths',
  'lengthMs',
  'clashes',
  'byBreath',
  'byCompression',
  'letGoLate',
  'overlapMs',
  'shortReleases',
  'shortSqueezes',
  'pauseMs',
  'pauses',
  'jitterPairs',
  'jitterSquares',
] as const;
/** What one cycle gives to a mean and a spread: none, one or several values. Times in ms. */
export const SPREAD = [
  'cycle',
  'lag',
  'restart',
  'lagRatio',
  'phase',
  'interval',
  'intervalChange',
  'compressorDwell',
  'ventilatorDwell',
] as const;

export type Counted = (typeof COUNTED)[number];
export type SpreadName = (typeof SPREAD)[number];
export type CycleValues = {
  isExact: boolean;
  counted: Record<Counted, number>;
  spread: Record<SpreadName, readonly number[]>;
};

/** Every cycle's numbers, in order, bout by bout: what figures.ts adds up, before it is added up. */
export function cycleValuesOf(bouts: readonly (readonly CycleRow[])[], tolerance: Tolerance): CycleValues[] {
  return bouts.flatMap((rows) => rows.map((row, index) => valuesOf(row, rows[index - 1], tolerance)));
}

function valuesOf(row: CycleRow, before: CycleRow | undefined, tolerance: Tolerance): CycleValues {
  const timing = exactTiming(row);
  const gaps = pausesOf(row);
  const isPair = timing !== null && before !== undefined && exactTiming(before) !== null;
  const lengthMs = row.lengthUs / 1000;
  const dwells = { compressor: lengthsMs(row.compressions), ventilator: lengthsMs(row.breaths) };
  const twoIntervalsUs = timing === null ? 0 : timing.firstIntervalUs + timing.secondIntervalUs;
  return {
    isExact: timing !== null,
    counted: {
      coordinated: isCoordinated(row, tolerance) ? 1 : 0,
      compressions: row.compressions.length,
      breaths: row.breaths.length,
      lengthMs,
      clashes: row.clash.count,
      byBreath: row.clash.byBreath,
      byCompression: row.clash.byCompression,
      letGoLate: row.clash.letGoLate,
      overlapMs: row.clash.overlapUs / 1000,
      shortReleases: shortReleasesOf(row.compressions),
      shortSqueezes: shortSqueezesOf(row.breaths),
      pauseMs: gaps.reduce((sum, gapUs) => sum + gapUs, 0) / 1000,
      pauses: gaps.length,
      jitterPairs: isPair ? 1 : 0,
      jitterSquares: isPair ? (lengthMs - before.lengthUs / 1000) ** 2 : 0,
    },
    spread: {
      cycle: [lengthMs],
      lag: timing === null ? [] : [timing.lagUs / 1000],
      restart: timing === null ? [] : [(row.lengthUs - timing.breathUs) / 1000],
      lagRatio: timing === null || twoIntervalsUs === 0 ? [] : [(2 * timing.lagUs) / twoIntervalsUs],
      phase: timing === null || row.lengthUs === 0 ? [] : [timing.breathUs / row.lengthUs],
      interval: timing === null ? [] : [timing.firstIntervalUs / 1000, timing.secondIntervalUs / 1000],
      intervalChange: timing === null ? [] : [(timing.secondIntervalUs - timing.firstIntervalUs) / 1000],
      compressorDwell: dwells.compressor,
      ventilatorDwell: dwells.ventilator,
    },
  };
}

function lengthsMs(presses: readonly RowPress[]): number[] {
  return presses.filter((press) => press.isMeasured).map((press) => (press.offUs - press.onUs) / 1000);
}
