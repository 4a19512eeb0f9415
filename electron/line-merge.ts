import type { BodyLine } from '../machines/journal.ts';
import type { Ms } from '../machines/units.ts';

/** A line on its way into the journal: of which window's batch it is, and when it came, in ms on the host's clock. */
export type HeldLine = { line: BodyLine; windowId: string; batch: string; cameMs: Ms };

/**
 * For so long a line waits for an earlier one of another window (tool default: a window's line is here some 5 ms
 * after its event, and 50 ms are too short to be seen on a screen).
 */
export const HOLD_MS: Ms = 50;

/**
 * Puts the lines of several windows into the order of their times. A window's own lines keep their order. The earliest
 * line that waits goes on when every other window has shown that it has none before it: by a later line that waits too,
 * or by having been silent for `HOLD_MS` with nothing of it unanswered (behind an unanswered batch others may queue).
 * A close line stands last. No clock in here: times are passed in, in ms on the host's clock.
 */
export class LineMerge {
  private readonly queues = new Map<string, HeldLine[]>();
  private readonly unanswered = new Map<string, number>();
  private readonly answeredMs = new Map<string, Ms>();

  add(lines: readonly HeldLine[]): void {
    for (const one of lines) {
      const queue = this.queues.get(one.windowId) ?? [];
      this.queues.set(one.windowId, queue);
      queue.push(one);
    }
  }

  /** A batch of this window has come, and its answer is awaited. */
  awaitAnswer(windowId: string): void {
    this.unanswered.set(windowId, (this.unanswered.get(windowId) ?? 0) + 1);
  }

  answered(windowId: string, nowMs: Ms): void {
    this.unanswered.set(windowId, Math.max(0, (this.unanswered.get(windowId) ?? 0) - 1));
    this.answeredMs.set(windowId, nowMs);
  }

  /** The lines that need wait no longer, in their order. `windowIds` are the windows that may send. */
  take(nowMs: Ms, windowIds: readonly string[]): HeldLine[] {
    const taken: HeldLine[] = [];
    for (;;) {
      const first = this.first();
      if (first === null || this.dueMs(first, windowIds) > nowMs) return taken;
      this.queues.get(first.windowId)?.shift();
      taken.push(first);
    }
  }

  /** When to look again, if nothing comes before; null: not until a line or an answer does. */
  nextDueMs(windowIds: readonly string[]): Ms | null {
    const first = this.first();
    const dueMs = first === null ? Number.POSITIVE_INFINITY : this.dueMs(first, windowIds);
    return Number.isFinite(dueMs) ? dueMs : null;
  }

  /** Nothing waits any more, and nothing is owed an answer. */
  clear(): void {
    this.queues.clear();
    this.unanswered.clear();
  }

  get hasClose(): boolean {
    return [...this.queues.values()].some((queue) => queue.at(-1)?.line.kind === 'close');
  }

  private first(): HeldLine | null {
    let first: HeldLine | null = null;
    for (const [head] of this.queues.values()) {
      if (head !== undefined && (first === null || orderMs(head) < orderMs(first))) first = head;
    }
    return first;
  }

  private dueMs(held: HeldLine, windowIds: readonly string[]): Ms {
    let dueMs = held.cameMs;
    for (const windowId of windowIds) {
      if (windowId === held.windowId || (this.queues.get(windowId)?.length ?? 0) > 0) continue;
      if ((this.unanswered.get(windowId) ?? 0) > 0) return Number.POSITIVE_INFINITY;
      const quietSinceMs = this.answeredMs.get(windowId) ?? Number.NEGATIVE_INFINITY;
      dueMs = Math.max(dueMs, Math.max(held.cameMs, quietSinceMs) + HOLD_MS);
    }
    return dueMs;
  }
}

/** A line without a time follows the one before it at once. */
function orderMs({ line }: HeldLine): Ms {
  return line.kind === 'close' ? Number.POSITIVE_INFINITY : (line.at ?? Number.NEGATIVE_INFINITY);
}
