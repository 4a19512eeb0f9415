import type { Bridge, DrillEntry } from '../../electron/contract.ts';
import { isSameName } from '../../machines/class/names.ts';
import { type UnledFact, unledFactsOf } from '../../machines/class/unled.ts';
import { PERSONS } from '../../machines/journal.ts';
import { replay } from '../../machines/replay.ts';
import { evidenceOf } from '../../machines/standard/evidence.ts';
import { isToday } from '../components/when.ts';

/** What is known so far: of `drills`, so many are read, and so many of these could not be. */
export type UnledKnown = {
  facts: readonly UnledFact[];
  drills: number;
  read: number;
  unread: number;
  /** Why nothing is known at all; null: something is. */
  problem: string | null;
};

/**
 * What is known of these people's unled compressing today, told as it comes: the last of it is whole. It ends early when it is
 * not wanted any more. An index of the drills can stand in its place.
 */
export type UnledSource = (
  names: readonly string[],
  tell: (known: UnledKnown) => void,
  isWanted: () => boolean,
) => Promise<void>;

/** From the journals themselves, one after the other: the page goes on between two of them. */
export function unledFromDrills(bridge: Pick<Bridge, 'listDrills' | 'readDrill'>): UnledSource {
  return async (names, tell, isWanted) => {
    const known: UnledKnown = { facts: [], drills: 0, read: 0, unread: 0, problem: null };
    const listed = await bridge.listDrills();
    if (!isWanted()) return;
    if (!listed.ok) return tell({ ...known, problem: listed.message });
    const entries = listed.value.filter((entry) => isOfToday(entry, names));
    known.drills = entries.length;
    tell({ ...known });
    for (const { drillId } of entries) {
      const drill = await bridge.readDrill(drillId);
      if (!isWanted()) return;
      known.read += 1;
      if (drill.ok) {
        const { open, lines } = drill.value;
        known.facts = [...known.facts, ...unledFactsOf(evidenceOf(replay(open, lines)))];
      } else known.unread += 1;
      tell({ ...known });
    }
  };
}

function isOfToday({ openedAt, names: pair }: DrillEntry, names: readonly string[]): boolean {
  return isToday(openedAt) && PERSONS.some((person) => names.some((name) => isSameName(pair[person], name)));
}
