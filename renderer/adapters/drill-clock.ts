import { MAX_AT_MS } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';

/**
 * The drill's clock: page time less the page time at open, in ms with three decimals.
 * A line's time is the operating system's time of the event (`event.timeStamp`), never the time its handler ran.
 */
export class DrillClock {
  private openedMs: Ms;
  /** Now, on the clock of event time stamps. */
  readonly pageNow: () => Ms;
  private lastMs: Ms = 0;

  /** `pageNow` is `performance.now`: the clock that event time stamps are on. */
  constructor(openedMs: Ms, pageNow: () => Ms) {
    this.openedMs = openedMs;
    this.pageNow = pageNow;
  }

  /** The time of the next line, from its event's time stamp: never below the line before. */
  lineAt(timeStampMs: Ms): Ms {
    this.lastMs = Math.max(this.lastMs, this.fromPage(timeStampMs));
    return this.lastMs;
  }

  /** For a line that no event made: a timer's now would make an event from before it, handled after it, look late. */
  atLastLine(): Ms {
    return this.lastMs;
  }

  /** Lines that are known to stand before the next one. */
  notBefore(atMs: Ms): void {
    this.lastMs = Math.max(this.lastMs, atMs);
  }

  /** The page time at the drill's 0. */
  get openedAtPageMs(): Ms {
    return this.openedMs;
  }

  /** The page time at the drill's 0 is known better, or has drifted: in a window that did not open the drill. */
  moveZero(openedMs: Ms): void {
    this.openedMs = openedMs;
  }

  /** Now, for screens only. */
  readonly now = (): Ms => this.fromPage(this.pageNow());

  /** A page time on the drill's clock, whatever lines there are. */
  fromPage(pageMs: Ms): Ms {
    const ms = Math.round((pageMs - this.openedMs) * 1000) / 1000;
    return Math.min(MAX_AT_MS, Math.max(0, ms));
  }
}
