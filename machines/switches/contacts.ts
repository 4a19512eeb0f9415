import type { Switch } from '../journal.ts';
import type { Ms } from '../units.ts';

/**
 * What a switch check is made from: every edge as its device gave it, before any clean-up. Times are ms on one
 * monotonic clock, in order for each switch. `isRepeat`: the system says that this down is auto-repeat.
 */
export type SwitchStamp = { switch: Switch; down: boolean; atMs: Ms; isRepeat?: boolean };

/**
 * One press as the finger made it: the contacts may have opened and closed several times on the way down (before
 * the longest closed stretch) and on the way up (after it). `offMs` null: still down at the end.
 */
export type Contact = {
  onMs: Ms;
  offMs: Ms | null;
  /** How long the contacts were open each time, in order, ms. */
  opensOnPress: readonly Ms[];
  opensOnRelease: readonly Ms[];
  /** Downs that came while it was down. */
  repeatsMs: readonly Ms[];
};

/**
 * Contacts that open for less than this are one press that bounces: nobody lets up and presses again so fast
 * (tool default; section 5 flags 100 ms between compressions as short).
 */
export const BOUNCE_WITHIN_MS: Ms = 50;

type Closed = { onMs: Ms; offMs: Ms | null };

/** The presses of one switch, in order. Ups without a down are passed over. */
export function contactsOf(stamps: readonly SwitchStamp[], name: Switch): Contact[] {
  const contacts: { closed: Closed[]; repeatsMs: Ms[] }[] = [];
  let open: Closed | null = null;
  for (const { switch: of, down, atMs, isRepeat } of stamps) {
    if (of !== name) continue;
    const latest = contacts.at(-1);
    if (!down) {
      if (open !== null) open.offMs = atMs;
      open = null;
    } else if (open !== null || isRepeat === true) {
      latest?.repeatsMs.push(atMs);
    } else {
      open = { onMs: atMs, offMs: null };
      const offMs = latest?.closed.at(-1)?.offMs ?? Number.NEGATIVE_INFINITY;
      if (latest !== undefined && atMs - offMs < BOUNCE_WITHIN_MS) latest.closed.push(open);
      else contacts.push({ closed: [open], repeatsMs: [] });
    }
  }
  return contacts.map(({ closed, repeatsMs }) => ({ ...contactFrom(closed), repeatsMs }));
}

/** How long a contact was held, ms; null while it is down. */
export function heldMs({ onMs, offMs }: Contact): Ms | null {
  return offMs === null ? null : offMs - onMs;
}

function contactFrom(closed: readonly Closed[]): Omit<Contact, 'repeatsMs'> {
  const lengths = closed.map(({ onMs, offMs }) => (offMs ?? Number.POSITIVE_INFINITY) - onMs);
  const hold = lengths.indexOf(Math.max(...lengths));
  const opens = closed.slice(1).map(({ onMs }, index) => onMs - (closed[index]?.offMs ?? onMs));
  return {
    onMs: closed[0]?.onMs ?? 0,
    offMs: closed.at(-1)?.offMs ?? null,
    opensOnPress: opens.slice(0, hold),
    opensOnRelease: opens.slice(hold),
  };
}
