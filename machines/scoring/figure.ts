/** A figure: a number, or why there is none. Never NaN, never infinite. */
export type Figure = number | NoFigure;
export type NoFigure = { value: null; reason: string };

/** A number, or the reason given when it is null or not finite. */
export function figure(value: number | null, reason: string): Figure {
  return value === null || !Number.isFinite(value) ? none(reason) : value;
}

export function none(reason: string): NoFigure {
  return { value: null, reason };
}

/** The figure's number, or null. */
export function numberOf(value: Figure): number | null {
  return typeof value === 'number' ? value : null;
}
