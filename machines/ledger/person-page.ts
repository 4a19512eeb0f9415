import { RIGS, type Rig, type Technique } from '../journal.ts';
import { dayAfter } from '../wall-clock.ts';
import { newestFirst } from './filter.ts';
import { type LedgerEntry, personIn, ROLES, type Role, type RoleEntry } from './ledger-entry.ts';
import { personKey, SOMEONE } from './person-name.ts';

/**
 * One drill of a person in one role. Its figures are the pair's: they stand with the partner's name, and no page puts one
 * pair, or one person, before another.
 */
export type PersonPoint = RoleEntry & {
  drillId: string;
  openedAt: string;
  /** "someone" where the partner was removed. */
  partner: string;
  techniques: readonly Technique[];
};
/** A person's drills in one role on one rig, oldest first. Cold minutes stand apart: cold against cold shows what was forgotten. */
export type PersonSeries = { trend: readonly PersonPoint[]; cold: readonly PersonPoint[] };
export type PersonPage = {
  /** As it was written last. */
  name: string;
  drills: number;
  /** Drills in no trend: no cycle of theirs was both unled and at the usual tempo. `led` has the weaned ones too. */
  notInTrend: { led: number; slowed: number; noCycle: number };
  /** Never pooled. */
  rigs: Record<Rig, Record<Role, PersonSeries>>;
  /** When they last compressed or ventilated, ISO 8601 in UTC; null: never. */
  lastPractisedAt: Record<Rig, string | null>;
  /** The day by the course's own interval after the last manikin drill, "2026-03-02"; null: no interval, or no such drill. */
  dueOn: string | null;
};

/** A person's page from all entries, the archived too; null where nobody of that name drilled. `intervalDays` is the course's own; null: it has none. */
export function personPageOf(
  entries: readonly LedgerEntry[],
  name: string,
  intervalDays: number | null,
): PersonPage | null {
  const key = personKey(name);
  if (key === null) return null;
  const theirs = entries
    .filter((entry) => personIn(entry, (other) => personKey(other) === key) !== null)
    .sort((a, b) => newestFirst(b, a));
  const last = theirs.at(-1);
  if (last === undefined) return null;
  const lastPractisedAt = byRig(
    (rig) => theirs.findLast((one) => one.rig === rig && one.boutSeconds > 0)?.openedAt ?? null,
  );
  return {
    name: last.names[personIn(last, (other) => personKey(other) === key) ?? 'A'],
    drills: theirs.length,
    notInTrend: notInTrendOf(theirs, key),
    rigs: byRig((rig) => {
      const points = (role: Role, isCold: boolean) =>
        theirs
          .filter((one) => one.rig === rig && one.isCold === isCold)
          .flatMap((one) => pointOf(one, role, key));
      const series = (role: Role) => ({ trend: points(role, false), cold: points(role, true) });
      return { compressor: series('compressor'), ventilator: series('ventilator') };
    }),
    lastPractisedAt,
    dueOn:
      intervalDays === null || lastPractisedAt.manikin === null
        ? null
        : dayAfter(lastPractisedAt.manikin, intervalDays),
  };
}

function byRig<T>(of: (rig: Rig) => T): Record<Rig, T> {
  return Object.fromEntries(RIGS.map((rig) => [rig, of(rig)])) as Record<Rig, T>;
}

function pointOf(entry: LedgerEntry, role: Role, key: string): PersonPoint[] {
  const person = personIn(entry, (name) => personKey(name) === key);
  const figures = person === null ? null : entry.people[person][role];
  if (person === null || figures === null) return [];
  const { drillId, openedAt, techniques, names } = entry;
  const partner = names[person === 'A' ? 'B' : 'A'];
  return [
    { drillId, openedAt, partner: personKey(partner) === null ? SOMEONE : partner, techniques, ...figures },
  ];
}

function notInTrendOf(theirs: readonly LedgerEntry[], key: string): PersonPage['notInTrend'] {
  const counts = { led: 0, slowed: 0, noCycle: 0 };
  for (const entry of theirs) {
    if (ROLES.some((role) => pointOf(entry, role, key).length > 0)) continue;
    if (entry.cycles.total === 0) counts.noCycle += 1;
    else if (entry.isSlowed) counts.slowed += 1;
    else counts.led += 1;
  }
  return counts;
}
