import type { Switch } from '../journal.ts';
import { type NoFigure, none } from '../scoring/figure.ts';
import { FEWEST_FOR_MEDIAN_INTERVAL, medianError, medianInterval } from '../statistics/median-interval.ts';
import { interquartileRange } from '../statistics/summary.ts';
import type { Ms } from '../units.ts';
import { type Contact, contactsOf, type SwitchStamp } from './contacts.ts';

/** How much later the second switch tells a press than the first, when both are pressed at once. */
export type SwitchOffset = {
  /** Median of second less first, ms: positive when the second is later. */
  medianMs: Ms;
  /** Middle half of the differences, ms. */
  spreadMs: Ms;
  /** 95 % of the median's error: its interval by ranks, and the variance step² ÷ 12 that either device adds to a time. */
  errorMs: Ms;
  /** Presses of both at once. */
  n: number;
};

/** Presses of both switches within this are one press with one object (tool default: past what any poll and driver add). */
const TOGETHER_MS: Ms = 150;
/** An offset beyond this is a fault to look for, not one to take out; the journal holds no greater (tool default). */
export const GREATEST_OFFSET_MS: Ms = 100;
const Z_95 = 1.96;

/**
 * The offset between two switches from their stamps, both pressed with one object, ten times or more.
 * `stepsMs` are their devices' time steps. Null under six presses of both, and when it is over 100 ms.
 */
export function offsetBetween(
  stamps: readonly SwitchStamp[],
  [first, second]: readonly [Switch, Switch],
  stepsMs: readonly [Ms, Ms],
): SwitchOffset | NoFigure {
  const differences = pairsOf(contactsOf(stamps, first), contactsOf(stamps, second));
  const found = medianInterval(differences);
  const spreadMs = interquartileRange(differences);
  if (found === null || spreadMs === null) {
    return none(
      differences.length === 0
        ? 'no press of both switches at once'
        : `${differences.length} presses of both switches at once, ${FEWEST_FOR_MEDIAN_INTERVAL} are needed`,
    );
  }
  if (Math.abs(found.median) > GREATEST_OFFSET_MS)
    return none(`the switches are ${Math.round(Math.abs(found.median))} ms apart: look for the cause`);
  const stepVariance = (stepsMs[0] ** 2 + stepsMs[1] ** 2) / 12;
  return {
    medianMs: found.median,
    spreadMs,
    errorMs: Math.hypot(medianError(found), Z_95 * Math.sqrt(stepVariance)),
    n: found.n,
  };
}

/** Second less first of the presses that are each other's nearest. */
function pairsOf(first: readonly Contact[], second: readonly Contact[]): Ms[] {
  return first.flatMap((contact) => {
    const other = nearest(contact, second);
    if (other === null || nearest(other, first) !== contact) return [];
    const ms = other.onMs - contact.onMs;
    return Math.abs(ms) <= TOGETHER_MS ? [ms] : [];
  });
}

function nearest(to: Contact, contacts: readonly Contact[]): Contact | null {
  let best: Contact | null = null;
  for (const contact of contacts)
    if (best === null || Math.abs(contact.onMs - to.onMs) < Math.abs(best.onMs - to.onMs)) best = contact;
  return best;
}
