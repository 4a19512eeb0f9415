import type { ReactElement } from 'react';
import type { PrimaryFigure, TrendDrawing, TrendMark } from '../../machines/ledger/trend-drawing.ts';
import { trendTick } from '../../machines/words/screen-ledger.ts';

type TrendChartProps = {
  drawing: TrendDrawing;
  figure: PrimaryFigure;
  /** Cold minutes are diamonds in the second ink, all others circles in the first. */
  isCold: boolean;
  label: string;
};
const CIRCLE = 3.4;
const DIAMOND = 4.6;

/** A figure over a person's drills: marks with their ±, joined by nothing, since each is another pair's or another day's. */
export function TrendChart({ drawing, figure, isCold, label }: TrendChartProps): ReactElement {
  const { width, height, left, marks, dayXs, ticks, idealY } = drawing;
  const ink = isCold ? 'trend-cold' : 'trend-mark';
  return (
    <svg className="trend" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
      {ticks.map(({ value, y }) => (
        <g key={value}>
          <path className="trend-rule" d={`M${left} ${y}H${width}`} />
          <text className="ink-quiet" x={left - 6} y={y + 4} textAnchor="end">
            {trendTick(figure, value)}
          </text>
        </g>
      ))}
      <path className="trend-day" d={dayXs.map((x) => `M${x} 4V${height - 4}`).join('')} />
      {idealY === null ? null : <path className="trend-ideal" d={`M${left} ${idealY}H${width}`} />}
      <path className={`${ink} trend-bar`} d={marks.map(barOf).join('')} />
      {[true, false].map((isFilled) => (
        <path
          key={String(isFilled)}
          className={`${ink} ${isFilled ? 'trend-filled' : 'trend-open'}`}
          d={marks
            .filter((mark) => mark.isFilled === isFilled)
            .map((mark) => (mark.isBeyond ? arrowOf(mark) : isCold ? diamondOf(mark) : circleOf(mark)))
            .join('')}
        />
      ))}
    </svg>
  );
}

function barOf({ x, lowY, highY }: TrendMark): string {
  return lowY === null || highY === null ? '' : `M${x} ${lowY}V${highY}`;
}

function circleOf({ x, y }: TrendMark): string {
  return `M${x - CIRCLE} ${y}a${CIRCLE} ${CIRCLE} 0 1 0 ${2 * CIRCLE} 0a${CIRCLE} ${CIRCLE} 0 1 0 ${-2 * CIRCLE} 0z`;
}

/** Points to where the mark would be. */
function arrowOf({ x, y }: TrendMark): string {
  return `M${x} ${y - DIAMOND}l${DIAMOND} ${2 * DIAMOND}h${-2 * DIAMOND}z`;
}

function diamondOf({ x, y }: TrendMark): string {
  return `M${x} ${y - DIAMOND}l${DIAMOND} ${DIAMOND}l${-DIAMOND} ${DIAMOND}l${-DIAMOND} ${-DIAMOND}z`;
}
