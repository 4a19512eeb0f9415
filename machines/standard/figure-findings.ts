import type { CycleRow } from '../scoring/cycle-row.ts';
import { type Figure, numberOf } from '../scoring/figure.ts';
import { type Figures, figuresOf } from '../scoring/figures.ts';
import type { Instrument } from '../scoring/instrument.ts';
import { type PlusMinus, plusMinusOf } from '../scoring/plus-minus.ts';
import { BLOCKS } from '../statistics/block-bootstrap.ts';
import { type Held, type Role, runsOfRole } from './evidence.ts';
import { LIMITED_FIGURES, type LimitedFigure, type Limits, type Standard } from './standard.ts';

/** What the tool says of a requirement; it never says more. */
export type Status = 'met' | 'not yet' | 'not assessed';

/**
 * A figure over all cycles that count in a role, against its limits. `plusMinus`: half of its 95 % interval; null where it is exact
 * or there is none. `too little to say`: the interval reaches over a limit, or there are too few cycles for one.
 */
export type FigureFinding = {
  kind: 'figure';
  figure: LimitedFigure;
  role: Role;
  limits: Limits;
  found: number | null;
  plusMinus: number | null;
  cycles: number;
  status: Status;
  why: 'outside' | 'too little to say' | 'no cycle counts' | null;
};

/** What happened is what it is: a count and a longest have no ± that a limit is held against. */
const EXACT: ReadonlySet<LimitedFigure> = new Set(['clash.count', 'pauses.longestMs']);
/**
 * Where every cycle is alike, resamples are too. The rule of three says how many of n could still have been otherwise, 3 ÷ n at 95 %:
 * Hanley and Lippman-Hand, JAMA 1983;249:1743 (from memory, not opened).
 */
const RULE_OF_THREE = 3;

/** The limits of a standard, each held against one role's cycles. By the tolerance `standard`, whatever the drill's own was. */
export function figureFindings(
  timing: NonNullable<Standard['requires']['timing']>,
  role: Role,
  held: readonly Held[],
): FigureFinding[] {
  const runs = held.flatMap(({ evidence, person }) => runsOfRole(evidence, person, role));
  const rows = runs.flat();
  const figures = figuresOf(runs, 'standard');
  const asked = LIMITED_FIGURES.flatMap((figure) => {
    const limits: Limits | undefined = timing[figure];
    return limits === undefined ? [] : [{ figure, limits }];
  });
  const plusMinus = asked.every(({ figure }) => EXACT.has(figure))
    ? null
    : plusMinusOf(runs, 'standard', coarsest(held, role));
  return asked.map(({ figure, limits }) => {
    const found = numberOf(figureOf(figures, figure));
    const base = { kind: 'figure', figure, role, limits, found, cycles: rows.length } as const;
    if (found === null) {
      const isNone = rows.length === 0;
      return {
        ...base,
        plusMinus: null,
        status: isNone ? 'not assessed' : 'not yet',
        why: isNone ? 'no cycle counts' : 'too little to say',
      };
    }
    const error = EXACT.has(figure) ? 0 : errorOf(plusMinus, figure, found, rows);
    return { ...base, plusMinus: error === 0 ? null : error, ...judge(found, error, limits) };
  });
}

/** Met where the whole interval is within the limits; an interval that reaches over one is not yet, for it may be either. */
function judge(
  found: number,
  error: number | null,
  { least, most }: Limits,
): Pick<FigureFinding, 'status' | 'why'> {
  const low = least ?? Number.NEGATIVE_INFINITY;
  const high = most ?? Number.POSITIVE_INFINITY;
  const reach = error ?? 0;
  if (found + reach < low || found - reach > high) return { status: 'not yet', why: 'outside' };
  if (error === null || found - reach < low || found + reach > high)
    return { status: 'not yet', why: 'too little to say' };
  return { status: 'met', why: null };
}

/** 0: exact; null: it has none yet. */
function errorOf(
  plusMinus: PlusMinus | null,
  figure: LimitedFigure,
  found: number,
  rows: readonly CycleRow[],
): number | null {
  const error = plusMinus === null ? null : plusMinusValue(plusMinus, figure);
  if (typeof error === 'number') return error;
  if (rows.length < BLOCKS.fewest) return null;
  // Over 3,000 cycles none is worked out, and it would be small.
  if (rows.length > BLOCKS.most) return 0;
  if (figure === 'coordinatedShare' && (found === 0 || found === 1)) return RULE_OF_THREE / rows.length;
  return error?.reason === 'the same throughout' ? 0 : null;
}

function figureOf(figures: Figures, figure: LimitedFigure): Figure {
  switch (figure) {
    case 'clash.count':
      return figures.clash.count;
    case 'pauses.longestMs':
      return figures.pauses.longestMs;
    default:
      return figures[figure];
  }
}

function plusMinusValue(plusMinus: PlusMinus, figure: LimitedFigure): Figure | null {
  switch (figure) {
    case 'clash.count':
    case 'pauses.longestMs':
      return null;
    default:
      return plusMinus[figure];
  }
}

/** Of several drills' instruments the coarsest of each part. */
function coarsest(held: readonly Held[], role: Role): Instrument {
  const instruments = held.flatMap(({ evidence, person }) =>
    evidence.stretches.filter(({ roles }) => roles[role] === person).map(({ instrument }) => instrument),
  );
  const most = (of: keyof Instrument) => Math.max(0, ...instruments.map((instrument) => instrument[of]));
  return {
    compressorStepMs: most('compressorStepMs'),
    ventilatorStepMs: most('ventilatorStepMs'),
    offsetErrorMs: most('offsetErrorMs'),
  };
}
