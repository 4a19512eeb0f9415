import type { DrillFold } from '../drill-fold.ts';
import type { OpenLine } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { type AlternatingDifference, alternatingDifference } from '../statistics/alternating-difference.ts';
import { mean } from '../statistics/summary.ts';
import type { Share } from '../units.ts';
import { type Figure, none } from './figure.ts';
import { type Figures, figuresOf } from './figures.ts';
import { instrumentOf } from './instrument.ts';
import type { DrillReport } from './report.ts';
import { type Conditions, type Factor, type Stretch, type Turns, turnsOf } from './stretches.ts';

/** The figures that are compared, and no others. */
export const PRIMARY = ['coordinatedShare', 'cycleJitterMs', 'breathLagRatio'] as const;
export type PrimaryFigure = (typeof PRIMARY)[number];

/**
 * The chance that a drill whose sides are alike has a figure called different (tool default), shared evenly by the primary figures of all its comparisons
 * that have intervals (Bonferroni).
 */
export const ALPHA = 0.05;
/** Stretches a side, by turns, from which a difference is more than one between two stretches (design section 5). */
export const FEWEST_STRETCHES = 3;

/**
 * The smallest difference that is of use (tool defaults): one cycle in ten, which is three a minute; and a quarter of what a coordinated
 * cycle's length (0.10 T of 2 s) and breath (0.4 of an interval) may be off, 50 ms each.
 */
export const SMALLEST_USEFUL: Record<PrimaryFigure, number> = {
  coordinatedShare: 0.1,
  cycleJitterMs: 50,
  breathLagRatio: 0.1,
};

/** What may be said of a difference. */
export type Verdict =
  | 'different'
  | 'no useful difference'
  | 'too little to say'
  | 'these two stretches differ';

/** Second side less first, in the figure's unit; null with its reason. */
export type Difference = {
  /** By turns: with a trend in a straight line taken out; else of the two sides' pooled figures. */
  difference: Figure;
  /** Its interval at `level`; null under three stretches a side. */
  low: Figure;
  high: Figure;
  level: Share;
  smallestUseful: number;
  verdict: Verdict;
};

/** One side: its stretches, and its cycles pooled. */
export type ComparisonSide = Record<PrimaryFigure, Figure> & {
  value: Conditions[Factor];
  stretches: number;
  cycles: Figures['cycles'];
};

/** Two sides that differ in one thing. */
export type Comparison = Record<PrimaryFigure, Difference> & {
  of: Factor;
  sides: readonly [first: ComparisonSide, second: ComparisonSide];
  /** What is the same on both sides. */
  alike: Partial<Conditions>;
  /** Were there three or more stretches a side, by turns? */
  isByTurns: boolean;
};

/**
 * Every comparison of a drill that has ended, in the order technique, stance, guidance, role. Cycles of the drill's own rig at the usual tempo alone.
 * Those by turns share α: the more there are, the wider is each interval.
 */
export function comparisonsOf(report: Pick<DrillReport, 'drill' | 'bouts'>, fold: DrillFold): Comparison[] {
  const turns = turnsOf(report, fold);
  const shared = turns.filter(isByTurnsOf).length;
  return turns.map((one) => compare(one, fold.open, shared));
}

function isByTurnsOf({ values, stretches }: Turns): boolean {
  return values.every(
    (value) => stretches.filter((stretch) => stretch.value === value).length >= FEWEST_STRETCHES,
  );
}

/** The share inside an interval of one figure, of so many comparisons that share α. */
function levelOf(shared: number): Share {
  return 1 - ALPHA / (PRIMARY.length * Math.max(1, shared));
}

/**
 * Compares two sides. Over three or more stretches a side each figure has a t interval at 1 − α ÷ 3, or ÷ 3 for each of the comparisons that share α. It is *different* when the interval excludes 0 and the difference is
 * of use; of *no useful difference* when the whole interval lies within the smallest useful difference either way; else there is too little to say.
 * What the switches add is the same in every stretch and drops out of a difference; but between roles with a switch for each person the offset
 * changes its sign, so twice its error widens the interval, and without a known offset the breath lag is not compared.
 */
export function compare(turns: Turns, open: OpenLine, shared = 1): Comparison {
  const { factor, values, alike, stretches } = turns;
  const { tolerance } = open;
  const level = levelOf(shared);
  const side = (value: string): ComparisonSide => {
    const own = stretches.filter((stretch) => stretch.value === value);
    const figures = figuresOf(
      own.flatMap(({ runs }) => runs),
      tolerance,
    );
    return {
      value: value as Conditions[Factor],
      stretches: own.length,
      cycles: figures.cycles,
      ...primaryOf(figures),
    };
  };
  const sides = [side(values[0]), side(values[1])] as const;
  const isByTurns = isByTurnsOf(turns);
  const each = stretches.map(({ runs }) => primaryOf(figuresOf(runs, tolerance)));
  const least = leastVariances(stretches, open);
  const differenceOf = (name: PrimaryFigure): Difference => {
    const offset = name === 'breathLagRatio' && factor === 'role' ? offsetError(open) : 0;
    if (typeof offset !== 'number') return unknown(name, level, offset);
    if (!isByTurns) return betweenTwo(name, level, sides);
    const numbers: number[] = [];
    for (const figures of each) {
      const figure = figures[name];
      if (typeof figure !== 'number') return unknown(name, level, figure);
      numbers.push(figure);
    }
    const found = alternatingDifference(numbers, stretches[0]?.value === values[1], level, least[name]);
    return {
      ...base(name, level),
      ...widened(found, offset),
      verdict: verdictOf(widened(found, offset), SMALLEST_USEFUL[name]),
    };
  };
  return {
    of: factor,
    sides,
    alike,
    isByTurns,
    coordinatedShare: differenceOf('coordinatedShare'),
    cycleJitterMs: differenceOf('cycleJitterMs'),
    breathLagRatio: differenceOf('breathLagRatio'),
  };
}

function primaryOf({
  coordinatedShare,
  cycleJitterMs,
  breathLagRatio,
}: Figures): Record<PrimaryFigure, Figure> {
  return { coordinatedShare, cycleJitterMs, breathLagRatio: breathLagRatio.mean };
}

function base(name: PrimaryFigure, level: Share): Pick<Difference, 'level' | 'smallestUseful'> {
  return { level, smallestUseful: SMALLEST_USEFUL[name] };
}

function unknown(name: PrimaryFigure, level: Share, reason: Exclude<Figure, number>): Difference {
  return {
    ...base(name, level),
    difference: reason,
    low: reason,
    high: reason,
    verdict: 'too little to say',
  };
}

function betweenTwo(
  name: PrimaryFigure,
  level: Share,
  [first, second]: readonly [ComparisonSide, ComparisonSide],
): Difference {
  const [one, other] = [first[name], second[name]];
  if (typeof one !== 'number') return unknown(name, level, one);
  if (typeof other !== 'number') return unknown(name, level, other);
  const few = none(`under ${FEWEST_STRETCHES} stretches a side by turns`);
  return {
    ...base(name, level),
    difference: other - one,
    low: few,
    high: few,
    verdict: 'these two stretches differ',
  };
}

function widened({ difference, low, high }: AlternatingDifference, by: number): AlternatingDifference {
  return { difference, low: low - by, high: high + by };
}

export function verdictOf({ difference, low, high }: AlternatingDifference, smallestUseful: number): Verdict {
  if ((low > 0 || high < 0) && Math.abs(difference) >= smallestUseful) return 'different';
  if (low > -smallestUseful && high < smallestUseful) return 'no useful difference';
  return 'too little to say';
}

/**
 * Figures come in steps, so stretches that agree to the last digit are not known to have no error: a step q has a variance of q² ÷ 12. A share's step is one
 * cycle of a stretch's; a jitter's and a lag's are the switches'.
 */
function leastVariances(stretches: readonly Stretch[], open: OpenLine): Record<PrimaryFigure, number> {
  const { compressorStepMs, ventilatorStepMs } = instrumentOf(open, ['A', 'B']);
  const cycleSteps = stretches.map(({ runs }) => 1 / runs.flat().length ** 2);
  return {
    coordinatedShare: (mean(cycleSteps) ?? 0) / 12,
    cycleJitterMs: compressorStepMs ** 2 / 12,
    breathLagRatio: (compressorStepMs ** 2 + ventilatorStepMs ** 2) / 12 / INTERVAL_MS ** 2,
  };
}

/** Between roles: what an offset between the switches may add to a difference of lag ratios. */
function offsetError({ binding, switchOffset }: OpenLine): Figure {
  if (binding === 'place') return 0;
  if (switchOffset?.applied !== true)
    return none('the offset between the two switches is not known, or was not taken out');
  return (2 * switchOffset.errorMs) / INTERVAL_MS;
}

/** T ÷ 4: a lag's interval. */
const INTERVAL_MS = CYCLE_MS / 4;
