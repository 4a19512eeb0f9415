import type { Us } from '../units.ts';
import type { CycleRow } from './cycle-row.ts';

/**
 * A row's compressions as the gaps between them part them: how many before the first gap, before the last one and since it, and how many
 * gaps. `isOpen`: the compressor went on over the breath without a gap, so that the triplet goes on in the next row.
 */
export type Phrase = { first: number; beforeGap: number; sinceGap: number; gaps: number; isOpen: boolean };

/** Up to so many beats from one compression to the next no gap was left (tool default). */
const MOST_BEATS = 1.5;

/** Where the compressor left room, by a beat: a gap is more than one and a half of it. */
export function phraseOf({ compressions, lengthUs }: CycleRow, beatUs: Us): Phrase {
  const phrase: Phrase = { first: 0, beforeGap: 0, sinceGap: 0, gaps: 0, isOpen: false };
  for (const [index, { onUs }] of compressions.entries()) {
    const previous = compressions[index - 1];
    if (previous !== undefined && isGap(onUs - previous.onUs, beatUs)) {
      phrase.gaps += 1;
      phrase.beforeGap = phrase.sinceGap;
      phrase.sinceGap = 0;
    }
    phrase.sinceGap += 1;
    if (phrase.gaps === 0) phrase.first += 1;
  }
  const last = compressions.at(-1);
  phrase.isOpen = last !== undefined && !isGap(lengthUs - last.onUs, beatUs);
  return phrase;
}

export function isGap(us: Us, beatUs: Us): boolean {
  return us > MOST_BEATS * beatUs;
}

/**
 * On which side of the compressor's gap a breath fell that is not in it; null when it is, or when that cannot be told. After "one" it is late, for it
 * belongs to the cycle before; after "two" it came before the third. `carried`: compressions of the row's first triplet that are in the row before.
 */
export function breathOutsideGap(
  { beforeGap, sinceGap, gaps, isOpen }: Phrase,
  carried: number,
): 'late' | 'before the third' | null {
  if (gaps === 0 || !isOpen || beforeGap + (gaps === 1 ? carried : 0) < LEAST_BEFORE_GAP) return null;
  if (sinceGap === 1) return 'late';
  return sinceGap === 2 ? 'before the third' : null;
}

/** Fewer before a gap are no triplet that ended there: the gap may be one that a compression is missing from. */
const LEAST_BEFORE_GAP = 2;
