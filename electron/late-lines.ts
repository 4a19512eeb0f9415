import type { BodyLine, DeviceLine } from '../machines/journal.ts';
import type { Ms } from '../machines/units.ts';

/** The line, at its own time or, if a later one stands already, at that line's. `lastMs` in drill ms. */
export function placedAfter(line: BodyLine, lastMs: Ms): BodyLine {
  return lateByMs(line, lastMs) > 0 ? { ...line, at: lastMs } : line;
}

/**
 * Says by how much an edge, a call or a tick stands later than it was; null where there is nothing to say: other lines' times
 * only give them their place.
 */
export function lateNote(line: BodyLine, lastMs: Ms): DeviceLine | null {
  const lateMs = lateByMs(line, lastMs);
  if (lateMs <= 0) return null;
  const note: DeviceLine = { kind: 'device', at: lastMs, what: 'late', lateMs };
  if (line.kind === 'edge') return { ...note, switch: line.switch };
  return line.kind === 'call' || line.kind === 'tick' ? note : null;
}

function lateByMs({ at }: BodyLine, lastMs: Ms): Ms {
  return at === undefined ? 0 : Math.max(0, Math.round((lastMs - at) * 1000) / 1000);
}
