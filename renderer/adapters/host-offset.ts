import type { Ms } from '../../machines/units.ts';

/** Host time less page time, and how far off that may be, in ms. */
export type Offset = { offsetMs: Ms; errorMs: Ms };

/**
 * The page's and the host's clock may drift apart by so much of the time that passed since a measurement. On one computer
 * both are its one monotonic clock (measured: see DEVELOPERS.md); this is a quartz's usual limit (tool default).
 */
const DRIFT = 50e-6;

/**
 * The offset between this page's clock and the host's, from pings: the host's answer was made between sending and receiving,
 * however unequal the two ways, so the middle is off by half the round trip at the most. The best ping stands until a later
 * one is better than it has become by drift, or shows that a clock was set.
 */
export class HostOffset {
  private best: (Offset & { atMs: Ms }) | null = null;

  /** One ping, sent and received at page times, with the host's time in the answer. */
  take(sentMs: Ms, hostMs: Ms, receivedMs: Ms): void {
    const found = {
      offsetMs: hostMs - (sentMs + receivedMs) / 2,
      errorMs: (receivedMs - sentMs) / 2,
      atMs: receivedMs,
    };
    const before = this.at(receivedMs);
    const isApart =
      before !== null && Math.abs(found.offsetMs - before.offsetMs) > before.errorMs + found.errorMs;
    if (before === null || isApart || found.errorMs <= before.errorMs) this.best = found;
  }

  /** What is known at a page time; null before any ping. */
  at(pageMs: Ms): Offset | null {
    if (this.best === null) return null;
    const { offsetMs, errorMs, atMs } = this.best;
    return { offsetMs, errorMs: errorMs + Math.abs(pageMs - atMs) * DRIFT };
  }
}
