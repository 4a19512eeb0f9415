import type { HostClock } from '../../electron/host-clock.ts';

/** A host's clock that stands still until it is moved; wakes in the order of their times. */
export class FakeHostClock implements HostClock {
  private nowMs = 0;
  private wakes: { atMs: number; then: () => void }[] = [];

  readonly now = (): number => this.nowMs;

  readonly wake = (afterMs: number, then: () => void): (() => void) => {
    const one = { atMs: this.nowMs + afterMs, then };
    this.wakes.push(one);
    return () => {
      this.wakes = this.wakes.filter((other) => other !== one);
    };
  };

  /** Moves on to a time, waking on the way whoever is due. */
  moveTo(atMs: number): void {
    for (;;) {
      const next = this.wakes.sort((a, b) => a.atMs - b.atMs)[0];
      if (next === undefined || next.atMs > atMs) break;
      this.wakes.shift();
      this.nowMs = Math.max(this.nowMs, next.atMs);
      next.then();
    }
    this.nowMs = Math.max(this.nowMs, atMs);
  }

  /** Moves on to a time, letting everything that was woken come to its end before the next is. */
  async runUntil(atMs: number): Promise<void> {
    for (;;) {
      for (let turn = 0; turn < 6; turn += 1) await new Promise<void>((resolve) => setImmediate(resolve));
      const nextMs = Math.min(...this.wakes.map((one) => one.atMs));
      if (nextMs > atMs) return this.moveTo(atMs);
      this.moveTo(nextMs);
    }
  }

  get isWaiting(): boolean {
    return this.wakes.length > 0;
  }
}
