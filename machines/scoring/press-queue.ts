import type { Press } from '../presses.ts';
import type { Us } from '../units.ts';

/** Presses held back in order of lines; adding and taking the first cost the same however many wait. */
export class PressQueue {
  private presses: Press[] = [];
  private head = 0;

  get first(): Press | undefined {
    return this.presses[this.head];
  }

  /** Onset of the first press, Infinity when none waits. */
  get fromUs(): Us {
    return this.first?.onUs ?? Number.POSITIVE_INFINITY;
  }

  push(press: Press): void {
    this.presses.push(press);
  }

  shift(): Press | undefined {
    const press = this.presses[this.head];
    if (press === undefined) return undefined;
    this.head += 1;
    if (this.head > 64 && this.head * 2 > this.presses.length) {
      this.presses = this.presses.slice(this.head);
      this.head = 0;
    }
    return press;
  }

  /** Empties the queue into an array. */
  drain(): Press[] {
    const rest = this.presses.slice(this.head);
    this.presses = [];
    this.head = 0;
    return rest;
  }
}
