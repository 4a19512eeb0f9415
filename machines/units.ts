/** Milliseconds on the drill's clock, or a length of time in milliseconds. */
export type Ms = number;
/** Whole microseconds: what every comparison is made in, so that shifting a journal changes nothing. */
export type Us = number;
/** A part of a whole, 0 to 1. */
export type Share = number;

/** Whole microseconds of a time given in milliseconds with at most three decimals. */
export function toUs(ms: Ms): Us {
  return Math.round(ms * 1000);
}

/** Milliseconds of a time or length in microseconds. */
export function toMs(us: Us): Ms {
  return us / 1000;
}

/** True when a time in milliseconds has at most three decimals (1.0005 has four). */
export function isWholeUs(ms: Ms): boolean {
  return Math.round(ms * 1000) / 1000 === ms;
}
