import type { DrillFold } from '../drill-fold.ts';
import type { Person, Roles } from '../journal.ts';
import type { Ms } from '../units.ts';
import { blockMeanError } from './block-figures.ts';
import type { Bout } from './bout.ts';
import { comparisonsOf } from './comparisons.ts';
import { asynchroniesOf, type CountFigures, runsByCount } from './count-figures.ts';
import type { CycleRow } from './cycle-row.ts';
import type { Figure } from './figure.ts';
import { type Instrument, instrumentOf } from './instrument.ts';
import {
  meanHalfWidth,
  type PlusMinus,
  plusMinusOf,
  type SteadinessPlusMinus,
  steadinessPlusMinusOf,
} from './plus-minus.ts';
import { type DrillReport, keyOf, pooledBouts, type ReportFigures, runsOf } from './report.ts';

/**
 * A report with ± beside every set of figures, and its comparisons. Asked for once, when a drill is over: the blocks cost
 * 10 to 20 ms a set of ten minutes, too much for after every cycle.
 */
export function withPlusMinus(report: DrillReport, fold: DrillFold): DrillReport {
  const { bouts } = fold.tracker.book;
  const pooled = pooledBouts(fold);
  const known = new Map<string, PlusMinusOfSet>();
  const beside = <F extends ReportFigures>(figures: F, of: readonly Bout[]): F => {
    const key = keyOf(of);
    const found = known.get(key) ?? work(fold, of);
    known.set(key, found);
    const { count } = figures;
    return {
      ...figures,
      count: {
        ...count,
        plusMinus: {
          asynchronyMs: {
            compressor: asynchronyError(count, found, 'compressor'),
            ventilator: asynchronyError(count, found, 'ventilator'),
          },
        },
        withCount: { ...count.withCount, plusMinus: found.withCount },
        withoutCount: { ...count.withoutCount, plusMinus: found.withoutCount },
      },
      plusMinus: found.whole,
    };
  };
  const person = (id: Person) => {
    const figures = report.drill.people[id];
    const held = (role: keyof Roles) => pooled.filter((bout) => bout.roles[role] === id);
    return {
      ...figures,
      compressor: beside(figures.compressor, held('compressor')),
      ventilator: beside(figures.ventilator, held('ventilator')),
    };
  };
  return {
    ...report,
    drill: { ...beside(report.drill, pooled), people: { A: person('A'), B: person('B') } },
    bouts: report.bouts.map((figures, index) => beside(figures, bouts.slice(index, index + 1))),
    comparisons: comparisonsOf(report, fold),
  };
}

type PlusMinusOfSet = {
  instrument: Instrument;
  whole: PlusMinus;
  withCount: SteadinessPlusMinus;
  withoutCount: SteadinessPlusMinus;
  /** Half-widths by blocks of the mean asynchronies; 0 where there is none. */
  asynchronyBlocksMs: Record<keyof Roles, Ms>;
};

function work(fold: DrillFold, bouts: readonly Bout[]): PlusMinusOfSet {
  const compressors = bouts.map((bout) => bout.roles.compressor);
  const instrument = instrumentOf(fold.open, compressors);
  const { tolerance } = fold.open;
  // Blocks go from one run to the next as they go from bout to bout; pairs of neighbours do not.
  const rows = bouts.flatMap((bout) => runsOf(fold, bout));
  const whole = plusMinusOf(rows, tolerance, instrument);
  // Led or unled all through, one side of the count has every row, in the same runs, and so the same ±.
  const ofCount = (runs: readonly (readonly CycleRow[])[]): SteadinessPlusMinus => {
    if (runs.flat().length !== rows.flat().length) return steadinessPlusMinusOf(runs, tolerance, instrument);
    const { coordinatedShare, cycleMs, cycleJitterMs } = whole;
    return { coordinatedShare, cycleMs, cycleJitterMs };
  };
  const { withCount, withoutCount } = runsByCount(rows, fold.beats);
  const asynchronies = asynchroniesOf(rows, fold.beats);
  const blocksMs = (role: keyof Roles) => {
    const values = asynchronies[role];
    return Array.isArray(values) ? (blockMeanError(values) ?? 0) : 0;
  };
  return {
    instrument,
    whole,
    withCount: ofCount(withCount),
    withoutCount: ofCount(withoutCount),
    asynchronyBlocksMs: { compressor: blocksMs('compressor'), ventilator: blocksMs('ventilator') },
  };
}

/** An asynchrony is made of one of the switch's times. */
function asynchronyError(
  { asynchronyMs }: CountFigures,
  { instrument, asynchronyBlocksMs }: PlusMinusOfSet,
  role: keyof Roles,
): Figure {
  const { mean, sd, n } = asynchronyMs[role];
  if (typeof mean !== 'number') return mean;
  if (typeof sd !== 'number') return sd;
  const stepMs = instrument[`${role}StepMs`];
  return meanHalfWidth({ sd, n, blockWidth: asynchronyBlocksMs[role] }, stepMs ** 2 / 12);
}
