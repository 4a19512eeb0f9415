import type { Tolerance } from './journal.ts';
import type { CycleRow } from './scoring/cycle-row.ts';
import { faultsOf } from './scoring/faults.ts';

/** The only things ever said to learners while they work; words/ has the words. */
export const HINTS = ['wait for breathe', 'leave room', 'slower', 'faster', 'keep going'] as const;
export type Hint = (typeof HINTS)[number];

/** A hint needs the same in three of the last five cycles, and 15 s since the hint before (tool defaults). */
export const HINT_CYCLES = 5;
const HINT_LEAST = 3;
const HINT_REST_MS = 15_000;

/** What one cycle shows, by who began too soon first, then pauses, then pace; null when nothing worth a hint. */
export function hintOf(row: CycleRow, tolerance: Tolerance): Hint | null {
  const faults = faultsOf(row, tolerance);
  if (faults.includes('breath too soon') || faults.includes('breath early')) return 'wait for breathe';
  if (faults.includes('compression too soon') || faults.includes('no breath, no gap')) return 'leave room';
  if (faults.includes('pause')) return 'keep going';
  if (faults.includes('cycle short')) return 'slower';
  if (faults.includes('cycle long')) return 'faster';
  return null;
}

/** The hint to give after a cycle, or null. `recent` is what the last five cycles show, the latest last. */
export function hintAfter(
  recent: readonly (Hint | null)[],
  atMs: number,
  lastHintMs: number | null,
): Hint | null {
  if (lastHintMs !== null && atMs - lastHintMs < HINT_REST_MS) return null;
  const latest = recent.at(-1);
  if (!latest) return null;
  return recent.filter((hint) => hint === latest).length >= HINT_LEAST ? latest : null;
}
