import type { BeatTimeline } from '../count/beat-timeline.ts';
import { BEAT_KINDS, type BeatKind } from '../count/beats.ts';
import type { Tolerance } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { mean, sampleSd } from '../statistics/summary.ts';
import { toUs, type Us } from '../units.ts';
import { type CycleRow, exactTiming } from './cycle-row.ts';
import { type Figure, figure } from './figure.ts';
import { type Figures, figuresOf, type Spread } from './figures.ts';
import type { PlusMinus } from './plus-minus.ts';

/** How steady the pair is over some of its cycles. Times in ms, shares 0 to 1. */
export type Steadiness = {
  cycles: number;
  coordinated: number;
  coordinatedShare: Figure;
  cycleMs: Pick<Figures['cycleMs'], 'median' | 'iqr'>;
  cycleJitterMs: Figure;
  /** Their ±, where it was asked for. */
  plusMinus?: Pick<PlusMinus, 'coordinatedShare' | 'cycleMs' | 'cycleJitterMs'>;
};

/** What the count does to the pair. */
export type CountFigures = {
  /**
   * From the heard beat of the press's own name to the press, ms, early negative: the three compressions of an exact
   * cycle to "one", "two" and "three", its breath to "breathe". Only beats that were heard, not those that were seen.
   */
  asynchronyMs: { compressor: Spread; ventilator: Spread };
  /** ± of the two means, where it was asked for. How late the sound itself was heard is not in it. */
  plusMinus?: { asynchronyMs: { compressor: Figure; ventilator: Figure } };
  /** Cycles at the guideline's tempo all through which the count was given, heard or seen … */
  withCount: Steadiness;
  /** … and those in which none of it was. A cycle in which it fell silent or came back is in neither. */
  withoutCount: Steadiness;
};

const COMPRESSION_BEATS = BEAT_KINDS.slice(0, 3);

/** Figures of rows, one list a bout, beside the beats that were given. */
export function countFiguresOf(
  bouts: readonly (readonly CycleRow[])[],
  tolerance: Tolerance,
  beats: BeatTimeline,
): CountFigures {
  const exact = bouts.flat().filter((row) => exactTiming(row) !== null);
  const off = (kind: BeatKind, row: CycleRow, onUs: Us | undefined) =>
    onUs === undefined ? null : beats.asynchronyMs(kind, row.startUs + onUs);
  const compressor = exact.flatMap((row) =>
    COMPRESSION_BEATS.map((kind, place) => off(kind, row, row.compressions[place]?.onUs)),
  );
  const ventilator = exact.map((row) => off('breathe', row, row.breaths[0]?.onUs));
  const { withCount, withoutCount } = runsByCount(bouts, beats);
  return {
    asynchronyMs: { compressor: asynchronyOf(compressor), ventilator: asynchronyOf(ventilator) },
    withCount: steadinessOf(withCount, tolerance),
    withoutCount: steadinessOf(withoutCount, tolerance),
  };
}

/** The cycles all through which the count was given, and those in which none of it was, as runs of neighbours. */
export function runsByCount(
  bouts: readonly (readonly CycleRow[])[],
  beats: BeatTimeline,
): Record<'withCount' | 'withoutCount', CycleRow[][]> {
  const runs = (isGiven: boolean) =>
    bouts.flatMap((bout) => runsOf(bout, (row) => isUsual(row) && wasGiven(beats, row) === isGiven));
  return { withCount: runs(true), withoutCount: runs(false) };
}

function wasGiven(beats: BeatTimeline, { startUs, lengthUs, idealUs }: CycleRow): boolean | null {
  return beats.isGivenIn(startUs, startUs + lengthUs, idealUs);
}

/** At the guideline's tempo: a slower one is another exercise. */
function isUsual({ idealUs }: CycleRow): boolean {
  return idealUs <= toUs(CYCLE_MS);
}

/** Neighbours that both belong, so that no pair of cycles reaches over one that was left out. */
function runsOf(rows: readonly CycleRow[], belongs: (row: CycleRow) => boolean): CycleRow[][] {
  const runs: CycleRow[][] = [];
  let run: CycleRow[] | null = null;
  for (const row of rows) {
    if (!belongs(row)) {
      run = null;
    } else if (run === null) {
      run = [row];
      runs.push(run);
    } else run.push(row);
  }
  return runs;
}

function steadinessOf(runs: readonly (readonly CycleRow[])[], tolerance: Tolerance): Steadiness {
  const { cycles, coordinatedShare, cycleMs, cycleJitterMs } = figuresOf(runs, tolerance);
  return {
    cycles: cycles.total,
    coordinated: cycles.coordinated,
    coordinatedShare,
    cycleMs: { median: cycleMs.median, iqr: cycleMs.iqr },
    cycleJitterMs,
  };
}

function asynchronyOf(values: readonly (number | null)[]): Spread {
  const known = values.filter((value) => value !== null);
  const reason = 'no beat was heard beside a cycle of three compressions and a breath';
  return {
    mean: figure(mean(known), reason),
    sd: figure(sampleSd(known), known.length === 0 ? reason : 'only one value'),
    n: known.length,
  };
}
