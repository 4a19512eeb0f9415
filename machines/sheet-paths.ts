import type { Drawing, Ink, Shape } from './sheet-drawing.ts';

/** All shapes of one ink as the `d` of one SVG path: a drawing of thousands of marks is then a handful of elements. */
export type InkPath = { ink: Ink; d: string };

/** From the back to the front: the columns of the ideal stay seen on a row that is tinted. */
const BACK_TO_FRONT = [
  'tint',
  'column',
  'end',
  'left-out-compression',
  'left-out-breath',
  'compression',
  'breath',
] as const satisfies readonly Ink[];

/** A drawing's marks, one path an ink, in the order they are drawn; words are apart. Inks that are not used are left out. */
export function pathsOf({ shapes }: Drawing): InkPath[] {
  const parts = new Map<Ink, string[]>(BACK_TO_FRONT.map((ink) => [ink, []]));
  for (const shape of shapes) if (shape.kind !== 'words') parts.get(shape.ink)?.push(pathOf(shape));
  return [...parts].filter(([, of]) => of.length > 0).map(([ink, of]) => ({ ink, d: of.join('') }));
}

export function wordsOf({ shapes }: Drawing): Extract<Shape, { kind: 'words' }>[] {
  return shapes.filter((shape) => shape.kind === 'words');
}

/** Half of a pill's stroke: the pill as drawn fills its place and no more. */
const STROKE_HALF = 1;

function pathOf(shape: Exclude<Shape, { kind: 'words' }>): string {
  switch (shape.kind) {
    case 'bar':
      return `M${shape.x} ${shape.y}h${shape.width}v${shape.height}h${-shape.width}z`;
    case 'line':
      return `M${shape.x} ${shape.y1}V${shape.y2}`;
    case 'pill': {
      const height = shape.height - 2 * STROKE_HALF;
      const width = Math.max(1, shape.width - 2 * STROKE_HALF);
      const rx = Math.min(height, width) / 2;
      const end = (sign: number) => `a${rx} ${height / 2} 0 0 1 0 ${sign * height}`;
      const straight = width - 2 * rx;
      const from = `M${round(shape.x + STROKE_HALF + rx)} ${shape.y + STROKE_HALF}`;
      return `${from}h${round(straight)}${end(1)}h${round(-straight)}${end(-1)}z`;
    }
  }
}

function round(units: number): number {
  return Math.round(units * 100) / 100;
}
