import type { LedgerFilter } from './filter.ts';
import type { LedgerEntry } from './ledger-entry.ts';

/** What a window asks of the Ledger, and what it is told. */

/** A journal that the station does not touch: a newer release's, one with a line that is wrong, or one that the disk does not give. */
export type LeftAlone = { fileName: string; why: 'newer' | 'damaged' | 'unreadable' };
/** A page of the Ledger: `total` entries are wanted, and `unread` journals are still to be looked at. */
export type LedgerPart = {
  entries: readonly LedgerEntry[];
  total: number;
  unread: number;
  leftAlone: readonly LeftAlone[];
};
export type LedgerQuery = { filter: LedgerFilter; from: number; count: number };
/** `drillId` null: in every drill. */
export type NameCorrection = { from: string; to: string; drillId: string | null };
export type Filing = { drillId: string; title: string | null; archived: boolean };
/**
 * What came of removing a person: journals in which they are "someone" now, journals that are gone since nobody is left in them, and
 * the files of the station's folder in which the name still stands.
 */
export type Removal = { drills: number; removedDrills: number; leftIn: readonly string[] };
