import type { Switch } from './journal.ts';
import type { Ms } from './units.ts';

/** An edge as the window has it, at its time on any one clock in ms. */
type Edge = { switch: Switch; down: boolean; lost?: true; timeStampMs: Ms };
export type BothHeldNews<E extends Edge> =
  | { type: 'edge'; edge: E }
  /** Both have been held for 2 s; both were down from `sinceMs`. */
  | { type: 'held'; sinceMs: Ms }
  /** After that, both are up again; `isLost`: nobody saw it. */
  | { type: 'let go'; atMs: Ms; isLost: boolean }
  /** After that, not both are up again in time, or somebody has called something: the sign is over. */
  | { type: 'given up' };

/** How long both are held (the design's 2 s), and how far apart they may go down (tool default). */
const HELD_MS: Ms = 2000;
const TOGETHER_MS: Ms = 1000;
/** How long after the sign both have to be up (tool default): a switch that is still down then hangs. */
const LET_GO_MS: Ms = 10_000;

/**
 * Tells the sign "both switches held for 2 s" from presses. An edge that may be the start of the sign waits until it is known
 * to be none: until its switch comes up, another line is to be written, or 1 s has gone by alone. It then goes on with
 * its own time. The presses of the sign itself are never handed on, so that they can be no compression and no breath.
 * A switch that hangs is no sign: the two must go down within a second. One that hangs after the sign does not keep the other's
 * presses back for long.
 */
export class BothHeld<E extends Edge> {
  private readonly isOn: boolean;
  private readonly down = new Set<Switch>();
  private waiting: E[] = [];
  private signMs: Ms | null = null;
  /** Switches that were still down when the sign was over: their release is the sign's too. */
  private readonly left = new Set<Switch>();

  constructor(isOn: boolean) {
    this.isOn = isOn;
  }

  take(edge: E): BothHeldNews<E>[] {
    if (!this.isOn) return [{ type: 'edge', edge }];
    const news = this.passTime(edge.timeStampMs);
    const wasFree = this.down.size === 0;
    if (edge.down) this.down.add(edge.switch);
    else this.down.delete(edge.switch);
    if (this.signMs !== null) return [...news, ...this.seeLetGo(edge)];
    if (this.left.delete(edge.switch) && !edge.down) return news;
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
      this.signMs = second.timeStampMs + HELD_MS;
      return [{ type: 'held', sinceMs: second.timeStampMs }];
    }
    if (this.signMs !== null && nowMs - this.signMs > LET_GO_MS) return this.endSign();
    const isAlone = first !== undefined && second === undefined;
    return isAlone && nowMs - first.timeStampMs > TOGETHER_MS ? this.giveUp() : [];
  }

  /** Another line is to be written: what waits goes before it, and is no sign. */
  giveUp(): BothHeldNews<E>[] {
    return this.waiting.splice(0).map((edge) => ({ type: 'edge', edge }));
  }

  /** Something was called meanwhile: the sign is over, and later presses go on. Nothing when there is no sign. */
  endSign(): BothHeldNews<E>[] {
    if (this.signMs === null) return [];
    this.signMs = null;
    for (const name of this.down) this.left.add(name);
    return [{ type: 'given up' }];
  }

  private seeLetGo(edge: E): BothHeldNews<E>[] {
    if (this.down.size > 0) return [];
    this.signMs = null;
    return [{ type: 'let go', atMs: edge.timeStampMs, isLost: edge.lost === true }];
  }
}
