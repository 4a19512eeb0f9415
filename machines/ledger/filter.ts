import type { Rig, Technique } from '../journal.ts';
import type { LedgerEntry } from './ledger-entry.ts';
import { foldedText, personKey } from './person-name.ts';

/** What is wanted of the Ledger; null: any. Everything that is given must hold. */
export type LedgerFilter = {
  /** Opened at this time or later, and before that, ISO 8601 in UTC: the window knows its own days. */
  from: string | null;
  before: string | null;
  person: string | null;
  /** A plan's name. */
  plan: string | null;
  rig: Rig | null;
  technique: Technique | null;
  /** Words that all stand in the names, the title or the plan's name. */
  text: string | null;
  archived: 'without' | 'only' | 'with';
};
export const NO_FILTER: LedgerFilter = {
  from: null,
  before: null,
  person: null,
  plan: null,
  rig: null,
  technique: null,
  text: null,
  archived: 'without',
};

/** The entries that are wanted, newest first. */
export function filterEntries(entries: readonly LedgerEntry[], filter: LedgerFilter): LedgerEntry[] {
  return entries.filter(wantedBy(filter)).sort(newestFirst);
}

/** Later opened before earlier; of the same moment, by file name, so that the order is always the same. */
export function newestFirst(
  a: Pick<LedgerEntry, 'openedAt' | 'fileName'>,
  b: Pick<LedgerEntry, 'openedAt' | 'fileName'>,
): number {
  if (a.openedAt !== b.openedAt) return a.openedAt < b.openedAt ? 1 : -1;
  return a.fileName < b.fileName ? 1 : a.fileName > b.fileName ? -1 : 0;
}

/** Everybody who drilled, by name: never by figure, since a figure belongs to the pair. */
export type LedgerPerson = { name: string; drills: number; lastDrillAt: string };
export function peopleOf(entries: readonly LedgerEntry[]): LedgerPerson[] {
  const people = new Map<string, LedgerPerson>();
  for (const entry of entries) {
    for (const name of Object.values(entry.names)) {
      const key = personKey(name);
      if (key === null) continue;
      const known = people.get(key);
      if (known === undefined) people.set(key, { name, drills: 1, lastDrillAt: entry.openedAt });
      else {
        known.drills += 1;
        if (entry.openedAt > known.lastDrillAt) Object.assign(known, { name, lastDrillAt: entry.openedAt });
      }
    }
  }
  return [...people].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, person]) => person);
}

function wantedBy(filter: LedgerFilter): (entry: LedgerEntry) => boolean {
  const { from, before, rig, technique, archived } = filter;
  const person = filter.person === null ? null : personKey(filter.person);
  const plan = filter.plan === null ? null : foldedText(filter.plan);
  const words = filter.text === null ? [] : foldedText(filter.text).split(' ');
  return (entry) => {
    if (archived !== 'with' && entry.isArchived !== (archived === 'only')) return false;
    if (from !== null && entry.openedAt < from) return false;
    if (before !== null && entry.openedAt >= before) return false;
    if (rig !== null && entry.rig !== rig) return false;
    if (technique !== null && !entry.techniques.includes(technique)) return false;
    if (plan !== null && (entry.plan === null || foldedText(entry.plan) !== plan)) return false;
    if (filter.person !== null && !Object.values(entry.names).some((name) => personKey(name) === person))
      return false;
    if (words.length === 0) return true;
    const { A, B } = entry.names;
    const text = foldedText(`${A} ${B} ${entry.title ?? ''} ${entry.plan ?? ''}`);
    return words.every((word) => text.includes(word));
  };
}
