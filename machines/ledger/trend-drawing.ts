import { quantileSorted } from 'd3-array';
import type { RoleEntry } from './ledger-entry.ts';
import type { PersonPoint } from './person-page.ts';

/** A person's primary figure over their drills: a step a drill, not a step a day, so that no mark covers another. */

export const PRIMARY_FIGURES = [
  'coordinatedShare',
  'cycleJitterMs',
  'breathLagRatio',
] as const satisfies readonly (keyof RoleEntry)[];
export type PrimaryFigure = (typeof PRIMARY_FIGURES)[number];
/** From the lowest to the highest that is drawn, in the figure's unit. */
export type TrendRange = { low: number; high: number };
/** A mark of one drill. `lowY` and `highY` are the ends of its ±, within the drawing; null: it has none. */
export type TrendMark = {
  drillId: string;
  x: number;
  y: number;
  lowY: number | null;
  highY: number | null;
  /** Drawn filled; open: two-finger was among its techniques. */
  isFilled: boolean;
  /** It lies above all that is drawn: its place is not its value, and it has no ±. */
  isBeyond: boolean;
};
export type TrendDrawing = {
  width: number;
  height: number;
  left: number;
  marks: readonly TrendMark[];
  /** Where a new day begins. */
  dayXs: readonly number[];
  ticks: readonly { value: number; y: number }[];
  /** Where the ideal lies that is no end of the range; null: it is one, or there is none. */
  idealY: number | null;
};

const WIDTH = 340;
const HEIGHT = 130;
const LEFT = 44;
const RIGHT = 8;
const TOP = 10;
const BOTTOM = 10;
/** As many marks as stand apart in it (tool default). */
export const MOST_DRAWN = 40;
/** The least that a breath lag ratio's range goes to either side of its ideal (tool default). */
const LEAST_RATIO_SPAN = 0.2;
/** A jitter over so many medians is beyond the drawing: one stall would else press all other drills flat (tool default). */
const MOST_MEDIANS = 4;

/** What a figure's drawings reach from and to, the same for all that is to be compared by eye; a ± may end at its edge. */
export function trendRange(figure: PrimaryFigure, points: readonly PersonPoint[]): TrendRange {
  const values = points.flatMap((point) => point[figure].value ?? []).sort((a, b) => a - b);
  if (figure === 'coordinatedShare') return { low: 0, high: 1 };
  if (figure === 'cycleJitterMs') {
    const most = MOST_MEDIANS * (quantileSorted(values, 0.5) ?? 0);
    return { low: 0, high: roundUp(Math.min(most, values.at(-1) ?? 0)) };
  }
  const span = roundUp(Math.max(LEAST_RATIO_SPAN, ...values.map((value) => Math.abs(value - 1))));
  return { low: 1 - span, high: 1 + span };
}

/** The latest drills of a series, oldest first, those without the figure left empty. `dayOf`: the day of a time, where the station is. */
export function drawTrend(
  points: readonly PersonPoint[],
  figure: PrimaryFigure,
  range: TrendRange,
  dayOf: (openedAt: string) => string,
): TrendDrawing {
  const shown = points.slice(-MOST_DRAWN);
  const step = (WIDTH - LEFT - RIGHT) / Math.max(1, shown.length);
  const xOf = (index: number) => round(LEFT + (index + 0.5) * step);
  const yOf = (value: number) => {
    const share = (clamp(value, range) - range.low) / (range.high - range.low);
    return round(HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM));
  };
  const middle = (range.low + range.high) / 2;
  return {
    width: WIDTH,
    height: HEIGHT,
    left: LEFT,
    marks: shown.flatMap((point, index) => {
      const { value, plusMinus } = point[figure];
      if (value === null) return [];
      const isBeyond = value > range.high;
      const hasBar = plusMinus !== null && !isBeyond;
      return {
        drillId: point.drillId,
        x: xOf(index),
        y: yOf(value),
        lowY: hasBar ? yOf(value - plusMinus) : null,
        highY: hasBar ? yOf(value + plusMinus) : null,
        isBeyond,
        isFilled: !point.techniques.includes('two-finger'),
      };
    }),
    dayXs: shown.flatMap((point, index) => {
      const before = shown[index - 1];
      const isNew = before !== undefined && dayOf(before.openedAt) !== dayOf(point.openedAt);
      return isNew ? [round(LEFT + index * step)] : [];
    }),
    ticks: [range.low, middle, range.high].map((value) => ({ value, y: yOf(value) })),
    idealY: figure === 'breathLagRatio' ? yOf(1) : null,
  };
}

/** The next of 1, 2, 5, 10, 20 and so on; 1 for nothing. */
function roundUp(value: number): number {
  if (value <= 0) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  const factor = [1, 2, 5].find((one) => one * power >= value) ?? 10;
  return factor * power;
}

function clamp(value: number, { low, high }: TrendRange): number {
  return Math.min(high, Math.max(low, value));
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
