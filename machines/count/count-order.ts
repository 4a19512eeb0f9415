import type { Ms } from '../units.ts';
import { BEAT_KINDS, type CountAnchor, nextOneMs } from './beats.ts';

/**
 * The count that is wanted: its first "one", its cycle, and the time from which no beat is wanted any more, which
 * lies half a beat before a "one" unless the pair has stopped. All in ms on the drill's clock.
 */
export type CountOrder = {
  fromMs: Ms;
  cycleMs: Ms;
  endMs: Ms | null;
  /** What is given until `fromMs`: the count at the tempo before. */
  before?: CountOrder;
};

/** A "one" nearer than this may have been queued already, or come too late to be: a part of T (tool default). */
const NEAR = 1 / 4;

/** A count that begins with a "one" after a lead-in of one cycle. */
export function countAfterLeadIn(atMs: Ms, cycleMs: Ms): CountOrder {
  return { fromMs: atMs + cycleMs, cycleMs, endMs: null };
}

/** A count that joins the pair at its own next "one": whole cycles after the last one it gave. */
export function countAtNextOne(lastOneMs: Ms, atMs: Ms, cycleMs: Ms): CountOrder {
  const fromMs = nextOneMs({ atMs: lastOneMs, beat: 'one', cycleMs }, atMs + NEAR * cycleMs);
  return { fromMs, cycleMs, endMs: null };
}

/** The count ends with the cycle that it is in, never within one. */
export function endedWithCycle(order: CountOrder, atMs: Ms): CountOrder {
  const oneMs = Math.max(order.fromMs, nextOneMs(anchorOf(order), atMs + NEAR * order.cycleMs));
  return { ...order, endMs: oneMs - halfBeatMs(order) };
}

/** The count goes on at another tempo from its next "one". */
export function atTempo(order: CountOrder, atMs: Ms, cycleMs: Ms): CountOrder {
  const { endMs: fromHalfBeatMs, ...old } = endedWithCycle(order, atMs);
  const fromMs = (fromHalfBeatMs ?? 0) + halfBeatMs(order);
  const { before: _before, ...given } = { ...old, endMs: fromMs };
  return { fromMs, cycleMs, endMs: null, before: given };
}

/** The count breaks off, if beats of it are still to come. */
export function brokenOff(order: CountOrder, atMs: Ms): CountOrder {
  return isGiven(order, atMs) ? { ...order, endMs: atMs } : order;
}

/** An order as it is really given, where that is known: from its first "one" on, by the latest reading. */
export function asGiven(
  order: CountOrder,
  { reading }: { reading: Pick<CountOrder, 'fromMs' | 'cycleMs'> | null },
): CountOrder {
  if (reading === null) return order;
  const { cycleMs } = reading;
  const cycles = Math.round((reading.fromMs - order.fromMs) / cycleMs);
  return { ...order, cycleMs, fromMs: reading.fromMs - cycles * cycleMs };
}

/** Is a beat of it still to be given at or after a time? */
export function isGiven({ endMs }: CountOrder, atMs: Ms): boolean {
  return endMs === null || atMs < endMs;
}

export function anchorOf({ fromMs, cycleMs }: CountOrder): CountAnchor {
  return { atMs: fromMs, beat: 'one', cycleMs };
}

function halfBeatMs({ cycleMs }: CountOrder): Ms {
  return cycleMs / BEAT_KINDS.length / 2;
}
