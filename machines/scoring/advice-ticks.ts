import type { Person, Roles, Technique } from '../journal.ts';
import { PRAISE_NEEDS, TICK_ITEMS, type Tick, type TickItem } from '../ticks.ts';
import type { BoutReport, DrillReport } from './report.ts';

/** A tick that comes before any figure: in which bout, who had to do with it, and whose tick it is (null: nobody's). */
export type TickPlace = {
  item: TickItem;
  bout: number;
  person: Person;
  role: keyof Roles;
  technique: Technique;
  by: Tick['by'] | null;
};
/** All of one kind; `seen` is what was met throughout, of the four that praise needs, and who saw it: an observer, if it was one anywhere. */
export type TickAdvice = {
  kind: 'not met' | 'not seen';
  places: readonly TickPlace[];
  seen: readonly { item: TickItem; by: Tick['by'] }[];
};

/** What the chest's hands answer for; all else is the airway's. */
const COMPRESSOR_ITEMS: ReadonlySet<TickItem> = new Set([
  'full-release',
  'depth',
  'position',
  'counts-aloud',
  'fingers-support',
  'firm-surface',
]);

/**
 * The ticks to put right first: those that were not met and not put right since by the same person in the same role and, on the chest, technique; else those that praise needs
 * and nobody saw. Null when there are none, or nothing to tick, as on a rhythm rig.
 */
export function tickAdvice({ bouts, drill }: DrillReport): TickAdvice | null {
  if (drill.rig === 'rhythm') return null;
  const asked = bouts.map((bout, index) => ({ bout, index })).filter(({ bout }) => bout.rig === 'manikin');
  if (asked.length === 0) return null;
  const place = (item: TickItem, bout: BoutReport, index: number): TickPlace => {
    const role = COMPRESSOR_ITEMS.has(item) ? 'compressor' : 'ventilator';
    const { technique, roles, ticks } = bout;
    return { item, bout: index, person: roles[role], role, technique, by: ticks[item]?.by ?? null };
  };
  const needs: readonly TickItem[] = PRAISE_NEEDS;
  const seen = needs
    .filter((item) => asked.every(({ bout }) => bout.ticks[item]?.seen === 'met'))
    .map((item) => {
      const isObserved = asked.some(({ bout }) => bout.ticks[item]?.by === 'observer');
      return { item, by: isObserved ? ('observer' as const) : ('instructor' as const) };
    });
  const items = [...needs, ...TICK_ITEMS.filter((item) => !needs.includes(item))];
  const notMet = items.flatMap((item) =>
    asked
      .filter(({ bout }) => bout.ticks[item]?.seen === 'not met')
      .map(({ bout, index }) => place(item, bout, index))
      .filter(
        (mine) =>
          !asked.some(
            ({ bout, index }) =>
              index > mine.bout &&
              bout.ticks[item]?.seen === 'met' &&
              bout.roles[mine.role] === mine.person &&
              // How the chest is held is nothing to the bag.
              (mine.role === 'ventilator' || bout.technique === mine.technique),
          ),
      ),
  );
  if (notMet.length > 0) return { kind: 'not met', places: notMet, seen };
  const notSeen = needs.flatMap((item) =>
    asked
      .filter(({ bout }) => bout.ticks[item] === undefined || bout.ticks[item].seen === 'not seen')
      .map(({ bout, index }) => place(item, bout, index)),
  );
  return notSeen.length === 0 ? null : { kind: 'not seen', places: notSeen, seen };
}
