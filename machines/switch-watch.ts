import type { Binding } from './journal.ts';
import { type BodyLine, type Switch, switchesOf } from './journal.ts';
import type { Ms } from './units.ts';

/** What a switch did that makes one doubt it; each is a device line of that name. */
export type SwitchDoubt = { what: 'stuck' | 'silent'; switch: Switch };

/** Held for longer than this, a switch is stuck (tool default: a squeeze lasts under a second). */
const STUCK_MS: Ms = 3000;
/** A switch is silent only beside so many presses of the other: two cycles' compressions (tool default). */
const PRESSES_BESIDE = 6;

/**
 * Watches for a switch that is stuck, by its edges as they come, also those that never become lines; and for one that was
 * silent for a whole bout, by the drill's own lines. Says each doubt once.
 */
export class SwitchWatch {
  private readonly names: readonly Switch[];
  private readonly downSince = new Map<Switch, Ms>();
  private readonly presses = new Map<Switch, number>();
  private bout: number | null = null;

  constructor(binding: Binding) {
    this.names = switchesOf(binding);
  }

  /** An edge, at its time on any one clock in ms. */
  takeEdge({ switch: name, down, timeStampMs }: { switch: Switch; down: boolean; timeStampMs: Ms }): void {
    if (down) this.downSince.set(name, timeStampMs);
    else this.downSince.delete(name);
  }

  /** Every line once, in order, with the bout that runs after it: its number, or null. */
  take(line: BodyLine, bout: number | null): SwitchDoubt[] {
    const doubts = bout === this.bout ? [] : this.endBout();
    this.bout = bout;
    if (line.kind === 'edge' && line.down) this.presses.set(line.switch, this.pressesOf(line.switch) + 1);
    return doubts;
  }

  /** Time has come to `nowMs` of the edges' clock. */
  passTime(nowMs: Ms): SwitchDoubt[] {
    const stuck = [...this.downSince].filter(([, sinceMs]) => nowMs - sinceMs > STUCK_MS);
    return stuck.map(([name]) => {
      this.downSince.delete(name);
      return { what: 'stuck', switch: name };
    });
  }

  private endBout(): SwitchDoubt[] {
    const silent =
      this.bout === null
        ? []
        : this.names.filter(
            (name) =>
              this.pressesOf(name) === 0 &&
              this.names.some((other) => this.pressesOf(other) >= PRESSES_BESIDE),
          );
    this.presses.clear();
    return silent.map((name) => ({ what: 'silent', switch: name }));
  }

  private pressesOf(name: Switch): number {
    return this.presses.get(name) ?? 0;
  }
}
