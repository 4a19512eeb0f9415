import type { Technique, TickLine } from '../journal.ts';
import type { BoutReport } from '../scoring/report.ts';
import {
  type BoutTicks,
  mayBePraised,
  PRAISE_NEEDS,
  TICK_ITEMS,
  type TickItem,
  type TickSeen,
} from '../ticks.ts';

export const TICK_WORDS: Record<TickItem, string> = {
  'chest-rise': 'Chest rises',
  'full-release': 'Full release',
  depth: 'Depth about one third',
  position: 'Thumb position',
  'counts-aloud': 'Counts aloud',
  'mask-seal': 'Mask seals',
  'squeeze-length': 'Squeezes only until the chest rises',
  'fingers-support': 'Fingers support the back, no squeeze',
  'firm-surface': 'Firm surface, or a hand behind',
  'ventilation-corrected': 'Ventilation corrected',
  'airway-secured': 'Airway secured, if the course says so',
  'oxygen-raised': 'Oxygen raised',
};

export const TICKS_WORDS = {
  title: 'What you see',
  note: 'each press: met, not met, not seen',
  more: (page: number, pages: number) => `More (${page} of ${pages})`,
  by: { instructor: 'Ticked by: instructor', observer: 'Ticked by: observer' } satisfies Record<
    TickLine['by'],
    string
  >,
  place: 'on the bone: lower third, below the nipple line, clear of its tip',
  open: 'not ticked',
  none: 'Nothing was ticked.',
  noPraise: 'No praise for timing here: chest rise, release, depth or position was not seen to be met.',
  report: 'What was seen',
} as const;

/** What a tick is called: thumbs are fingers in the other technique. */
export function tickName(item: TickItem, technique: Technique): string {
  return item === 'position' && technique === 'two-finger' ? 'Finger position' : TICK_WORDS[item];
}

/** "Chest rises: met". */
export function tickLabel(item: TickItem, technique: Technique, seen: TickSeen | undefined): string {
  return `${tickName(item, technique)}: ${seen ?? TICKS_WORDS.open}`;
}

/** A bout's ticks in words, one an item: first the four that praise needs, ticked or not, then what else was. */
export function tickSentences({ ticks, technique }: Pick<BoutReport, 'ticks' | 'technique'>): string[] {
  if (Object.keys(ticks).length === 0) return [TICKS_WORDS.none];
  const needs: readonly string[] = PRAISE_NEEDS;
  const known = TICK_ITEMS.filter((item) => needs.includes(item) || ticks[item] !== undefined);
  const unknown = Object.keys(ticks).filter((item) => !(TICK_ITEMS as readonly string[]).includes(item));
  return [
    ...known.map((item) => `${tickName(item, technique)}: ${seenWords(ticks, item)}`),
    ...unknown.map((item) => `${item}: ${seenWords(ticks, item)}`),
  ];
}

/** What stands under a bout's ticks; null where nothing is in the way of praise. */
export function praiseNote({ ticks }: Pick<BoutReport, 'ticks'>): string | null {
  return mayBePraised(ticks) ? null : TICKS_WORDS.noPraise;
}

function seenWords(ticks: BoutTicks, item: string): string {
  const tick = ticks[item];
  if (tick === undefined) return TICKS_WORDS.open;
  return tick.by === 'observer' ? `${tick.seen} (an observer’s tick)` : tick.seen;
}
