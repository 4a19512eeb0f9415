import type { Switch } from './journal.ts';
import type { Ms } from './units.ts';

/** An edge as the window has it, at its time on any one clock in ms. */
type Edge = { switch: Switch; down: boolean; lost?: true; timeStampMs: Ms };
export type BothHeldNews<E extends Edge> =
  | { type: 'edge'; edge: E }
  /** Both have been held for 2 s; both were down from `sinceMs`. */
  | { type: 'held'; sinceMs: Ms }
  /** After that, both are up again; `isLost`: nobody saw it. */
  | { type: 'let go'; atMs: Ms; isLost: boolean };

/** How long both are held (the design's 2 s), and how far apart they may go down (tool default). */
const HELD_MS: Ms = 2000;
const TOGETHER_MS: Ms = 1000;

/**
 * Tells the sign "both switches held for 2 s" from presses. An edge that may be the start of the sign waits until it is known
 * to be none: until its switch comes up, another line is to be written, or 1 s has gone by alone. It then goes on with
 * its own time. The presses of the sign itself are never handed on, so that they can be no compression and no breath.
 * A switch that hangs is no sign: the two must go down within a second.
 */
export class BothHeld<E extends Edge> {
  private readonly isOn: boolean;
  private readonly down = new Set<Switch>();
  private waiting: E[] = [];
  private isSign = false;

  constructor(isOn: boolean) {
    this.isOn = isOn;
  }

  take(edge: E): BothHeldNews<E>[] {
    if (!this.isOn) return [{ type: 'edge', edge }];
    const news = this.passTime(edge.timeStampMs);
    const wasFree = this.down.size === 0;
    if (edge.down) this.down.add(edge.switch);
    else this.down.delete(edge.switch);
    if (this.isSign) return [...news, ...this.endSign(edge)];
    const [first] = this.waiting;
    const mayBeSign = edge.down && (wasFree || (this.waiting.length === 1 && first?.switch !== edge.switch));
    if (mayBeSign) {
      this.waiting.push(edge);
      return news;
    }
    return [...news, ...this.giveUp(), { type: 'edge', edge }];
  }

  passTime(nowMs: Ms): BothHeldNews<E>[] {
    const [first, second] = this.waiting;
    if (second !== undefined && nowMs - second.timeStampMs >= HELD_MS) {
      this.waiting = [];
      this.isSign = true;
      return [{ type: 'held', sinceMs: second.timeStampMs }];
    }
    const isAlone = first !== undefined && second === undefined;
    return isAlone && nowMs - first.timeStampMs > TOGETHER_MS ? this.giveUp() : [];
  }

  /** Another line is to be written: what waits goes before it, and is no sign. */
  giveUp(): BothHeldNews<E>[] {
    return this.waiting.splice(0).map((edge) => ({ type: 'edge', edge }));
  }

  private endSign(edge: E): BothHeldNews<E>[] {
    if (this.down.size > 0) return [];
    this.isSign = false;
    return [{ type: 'let go', atMs: edge.timeStampMs, isLost: edge.lost === true }];
  }
}
