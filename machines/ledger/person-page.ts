import { RIGS, type Rig, type Technique } from '../journal.ts';
import { dayAfter } from '../wall-clock.ts';
import { newestFirst } from './filter.ts';
import {
  type KeptFigure,
  type LedgerEntry,
  personIn,
  ROLES,
  type Role,
  type RoleEntry,
} from './ledger-entry.ts';
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
/**
 * How the last cold minute differs from the one before it with the same partner and technique: later less earlier, ± √(a² + b²).
 * Two stretches that differ, and no more: too few to say why.
 */
export type ColdChange = Pick<RoleEntry, 'coordinatedShare' | 'cycleJitterMs' | 'breathLagRatio'> & {
  partner: string;
  fromDrillId: string;
  toDrillId: string;
};
/** A person's drills in one role on one rig, oldest first. Cold minutes stand apart: cold against cold shows what was forgotten. */
export type PersonSeries = {
  trend: readonly PersonPoint[];
  cold: readonly PersonPoint[];
  /** Null where there are no two that can be compared. */
  coldChange: ColdChange | null;
};
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

/** A person's page from all entries, the archived too, a drill that somebody copied in the folder once; null where nobody of that name drilled. `intervalDays` is the course's own; null: it has none. */
export function personPageOf(
  entries: readonly LedgerEntry[],
  name: string,
  intervalDays: number | null,
): PersonPage | null {
  const key = personKey(name);
  if (key === null) return null;
  const theirs = [...new Map(entries.map((entry) => [`${entry.openedAt} ${entry.drillId}`, entry])).values()]
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
      const series = (role: Role): PersonSeries => {
        const cold = points(role, true);
        return { trend: points(role, false), cold, coldChange: coldChangeOf(cold) };
      };
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

function coldChangeOf(cold: readonly PersonPoint[]): ColdChange | null {
  const last = cold.at(-1);
  // "someone" may have been anyone.
  const partner = last === undefined ? null : personKey(last.partner);
  if (last === undefined || partner === null) return null;
  const before = cold
    .slice(0, -1)
    .findLast(
      (one) => personKey(one.partner) === partner && one.techniques.join() === last.techniques.join(),
    );
  if (before === undefined) return null;
  return {
    partner: last.partner,
    fromDrillId: before.drillId,
    toDrillId: last.drillId,
    coordinatedShare: difference(before.coordinatedShare, last.coordinatedShare),
    cycleJitterMs: difference(before.cycleJitterMs, last.cycleJitterMs),
    breathLagRatio: difference(before.breathLagRatio, last.breathLagRatio),
  };
}

function difference(before: KeptFigure, after: KeptFigure): KeptFigure {
  if (before.value === null || after.value === null) return { value: null, plusMinus: null };
  const hasBoth = before.plusMinus !== null && after.plusMinus !== null;
  return {
    value: after.value - before.value,
    plusMinus: hasBoth ? Math.hypot(before.plusMinus ?? 0, after.plusMinus ?? 0) : null,
  };
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
