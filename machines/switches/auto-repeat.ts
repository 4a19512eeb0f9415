import { type Figure, type NoFigure, none } from '../scoring/figure.ts';
import { median } from '../statistics/summary.ts';
import type { Ms } from '../units.ts';
import { type Contact, heldMs } from './contacts.ts';

/** What a held switch sends. */
export type AutoRepeat = {
  isRepeating: boolean;
  /** From the press to its first repeat, and from repeat to repeat: medians, ms. */
  afterMs: Figure;
  everyMs: Figure;
  /** The medians are known to within one step of the device, ms. */
  errorMs: Ms;
  /** Presses held long enough to tell. */
  n: number;
};

/** Held for a second, any usual keyboard has begun to repeat (tool default: usual delays are 0.25 to 1 s). */
const HELD_MS: Ms = 1000;

/** Does the switch repeat while it is held? `stepMs` is its device's time step. Null when no press lasted a second. */
export function autoRepeatOf(contacts: readonly Contact[], stepMs: Ms): AutoRepeat | NoFigure {
  const held = contacts.filter((contact) => (heldMs(contact) ?? 0) >= HELD_MS);
  const repeating = contacts.filter(({ repeatsMs }) => repeatsMs.length > 0);
  if (held.length === 0 && repeating.length === 0) return none('no press was held for a second');
  const every = repeating.flatMap(({ repeatsMs }) =>
    repeatsMs.slice(1).map((ms, index) => ms - (repeatsMs[index] ?? ms)),
  );
  const no = none(repeating.length === 0 ? 'it does not repeat' : 'it repeated once');
  return {
    isRepeating: repeating.length > 0,
    afterMs: median(repeating.map(({ onMs, repeatsMs }) => (repeatsMs[0] ?? onMs) - onMs)) ?? no,
    everyMs: median(every) ?? no,
    errorMs: stepMs,
    n: Math.max(held.length, repeating.length),
  };
}
