import type { BeatTimeline } from '../count/beat-timeline.ts';
import { BEAT_KINDS, type BeatKind } from '../count/beats.ts';
import type { Roles, Tolerance } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { mean, sampleSd } from '../statistics/summary.ts';
import { type Ms, toMs, toUs, type Us } from '../units.ts';
import { type CycleRow, exactTiming } from './cycle-row.ts';
import { type Figure, figure, type NoFigure, none } from './figure.ts';
import { type Figures, figuresOf, type Spread } from './figures.ts';
import type { SteadinessPlusMinus } from './plus-minus.ts';

/** How steady the pair is over some of its cycles. Times in ms, shares 0 to 1. */
export type Steadiness = {
  cycles: number;
  coordinated: number;
  coordinatedShare: Figure;
  cycleMs: Pick<Figures['cycleMs'], 'median' | 'iqr'>;
  cycleJitterMs: Figure;
  /** Their ±, where it was asked for. */
  plusMinus?: SteadinessPlusMinus;
};

/** What the count does to the pair. */
export type CountFigures = {
  /**
   * From the heard beat of the press's own name to the press, ms, early negative: the three compressions of an exact
   * cycle to "one", "two" and "three", its breath to "breathe". Only beats that were heard, not those that were seen.
   */
  asynchronyMs: { compressor: Spread; ventilator: Spread };
  /** ± of the two means, where it was asked for. As of every mean, from 20 cycles with blocks of cycles. How late the sound itself was heard is not in it. */
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
  const { compressor, ventilator } = offsOf(bouts, beats);
  const { withCount, withoutCount } = runsByCount(bouts, beats);
  return {
    asynchronyMs: { compressor: asynchronyOf(compressor), ventilator: asynchronyOf(ventilator) },
    withCount: steadinessOf(withCount, tolerance),
    withoutCount: steadinessOf(withoutCount, tolerance),
  };
}

/**
 * What `asynchronyMs` has the mean and spread of: ms from heard beats to presses, one list for each cycle that has any, in
 * order; or why there is no mean.
 */
export function asynchroniesOf(
  bouts: readonly (readonly CycleRow[])[],
  beats: BeatTimeline,
): Record<keyof Roles, number[][] | NoFigure> {
  const { compressor, ventilator } = offsOf(bouts, beats);
  return { compressor: laidOut(compressor), ventilator: laidOut(ventilator) };
}

function offsOf(bouts: readonly (readonly CycleRow[])[], beats: BeatTimeline): Record<keyof Roles, Off[][]> {
  const exact = bouts.flat().filter((row) => exactTiming(row) !== null);
  const off = (kind: BeatKind, row: CycleRow, onUs: Us | undefined): Off[] => {
    const ms = onUs === undefined ? null : beats.asynchronyMs(kind, row.startUs + onUs);
    return ms === null ? [] : [{ ms, cycleMs: toMs(row.idealUs) }];
  };
  const compressor = exact.map((row) =>
    COMPRESSION_BEATS.flatMap((kind, place) => off(kind, row, row.compressions[place]?.onUs)),
  );
  const ventilator = exact.map((row) => off('breathe', row, row.breaths[0]?.onUs));
  const hasAny = (offs: readonly Off[]) => offs.length > 0;
  return { compressor: compressor.filter(hasAny), ventilator: ventilator.filter(hasAny) };
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

/** Null where nobody can say: a count was to be given, and no line says that it was. */
function wasGiven(beats: BeatTimeline, { startUs, lengthUs, idealUs, guidance }: CycleRow): boolean | null {
  const isGiven = beats.isGivenIn(startUs, startUs + lengthUs, idealUs);
  if (isGiven !== false || guidance === 'unled') return isGiven;
  return guidance === 'weaned' && beats.stretches.length > 0 ? false : null;
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

/** From its beat to a press, and the cycle in which that goes round. */
type Off = { ms: Ms; cycleMs: Ms };
/** Under this mean resultant length presses keep to no beat: a spread of some 270 ms at 2 s (tool default). */
const LEAST_CONCENTRATION = 0.7;
const NO_BEAT = 'no beat was heard beside a cycle of three compressions and a breath';

function asynchronyOf(cycles: readonly (readonly Off[])[]): Spread {
  const n = cycles.flat().length;
  const values = laidOut(cycles);
  if (!Array.isArray(values)) return { mean: values, sd: values, n };
  const all = values.flat();
  return { mean: figure(mean(all), NO_BEAT), sd: figure(sampleSd(all), 'only one value'), n };
}

/**
 * What goes round, as plain numbers: where the presses lie is found on the circle (Mardia and Jupp, Directional
 * Statistics, 2000, section 2.2: mean direction and mean resultant length), and then they are laid out about it.
 * A pair that does not keep to the count has no mean: half a cycle early is half a cycle late.
 */
function laidOut(cycles: readonly (readonly Off[])[]): number[][] | NoFigure {
  const offs = cycles.flat();
  if (offs.length === 0) return none(NO_BEAT);
  const angles = offs.map(({ ms, cycleMs }) => (2 * Math.PI * ms) / cycleMs);
  const x = mean(angles.map(Math.cos)) ?? 0;
  const y = mean(angles.map(Math.sin)) ?? 0;
  if (Math.hypot(x, y) < LEAST_CONCENTRATION) return none('the presses did not keep to the heard beat');
  const middle = Math.atan2(y, x) / (2 * Math.PI);
  return cycles.map((list) =>
    list.map(({ ms, cycleMs }) => ms - cycleMs * Math.round(ms / cycleMs - middle)),
  );
}
