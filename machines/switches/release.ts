import { type NoFigure, none } from '../scoring/figure.ts';
import type { Ms } from '../units.ts';
import { tooFew } from './bounce.ts';
import { type Contact, heldMs } from './contacts.ts';

/** How fast a switch lets go. */
export type Release = {
  /** The shortest press that it showed when it was tapped as shortly as can be, ms. */
  shortestMs: Ms;
  /** True when even that was over 150 ms: it stays closed after the finger has gone, so press lengths and clashes are its own. */
  isSlow: boolean;
  /** A length is the difference of two stamps: it is known to within one step of the device, ms. */
  errorMs: Ms;
  n: number;
};

/** Tool default: taps. */
const FEWEST_TAPS = 8;
/** Tool default: a tap made as short as one can is well under this. */
const SLOW_MS: Ms = 150;

/** How fast a switch lets go, from short taps; `stepMs` is its device's time step. Null under eight. */
export function releaseOf(contacts: readonly Contact[], stepMs: Ms): Release | NoFigure {
  const lengths = contacts.map(heldMs).filter((ms) => ms !== null);
  if (lengths.length < FEWEST_TAPS) return none(tooFew(lengths.length, FEWEST_TAPS));
  const shortestMs = Math.min(...lengths);
  return { shortestMs, isSlow: shortestMs - stepMs > SLOW_MS, errorMs: stepMs, n: lengths.length };
}
