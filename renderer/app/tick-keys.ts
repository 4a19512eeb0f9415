import type { TickLine } from '../../machines/journal.ts';
import { nextSeen, type TickItem, type TickSeen, tickPages } from '../../machines/ticks.ts';
import { TICK_KEYS, type TickKey } from '../adapters/key-uses.ts';
import type { DrillSession } from './drill-session.ts';

/** Which page of ticks is shown, and who ticks: this window's own, in no journal until something is ticked. */
export type TickView = { page: number; by: TickLine['by'] };
export const FIRST_TICK_VIEW: TickView = { page: 0, by: 'instructor' };
export const MORE_KEY = 'F6' satisfies TickKey;
export const WHO_KEY = 'F7' satisfies TickKey;

export type TickChoice = { key: TickKey; item: TickItem; seen: TickSeen | undefined; next: TickSeen };
/** The ticks on the screen with their keys; null where there are none: before begin, and on a rhythm rig. */
export type TicksShown = { choices: TickChoice[]; page: number; pages: number };

export function ticksShown(
  { driver, seenOf }: Pick<DrillSession, 'driver' | 'seenOf'>,
  view: TickView,
): TicksShown | null {
  const { context, value } = driver.snapshot;
  const pages = tickPages({
    rig: driver.open.rig,
    technique: context.arrangement.technique,
    stance: context.arrangement.stance,
    airway: context.airway,
    isBefore: !driver.hasBout,
  });
  const page = view.page % Math.max(1, pages.length);
  const items = pages[page];
  if (items === undefined || value.stage === 'notBegun') return null;
  const choices = items.flatMap((item, index) => {
    const key = TICK_KEYS[index];
    const seen = seenOf(item);
    return key === undefined ? [] : [{ key, item, seen, next: nextSeen(seen) }];
  });
  return { choices, page, pages: pages.length };
}

/** The view after one of its two keys; null when the key is a tick's. */
export function tickViewAfter(view: TickView, key: TickKey): TickView | null {
  if (key === MORE_KEY) return { ...view, page: view.page + 1 };
  if (key === WHO_KEY) return { ...view, by: view.by === 'instructor' ? 'observer' : 'instructor' };
  return null;
}
