import type { Airway, Rig, Stance, Technique, TickLine } from './journal.ts';
import { type Ms, toMs, toUs, type Us } from './units.ts';

/** What no switch can know, and someone who watches can tick. */
export const TICK_ITEMS = [
  'chest-rise',
  'full-release',
  'depth',
  'position',
  'counts-aloud',
  'mask-seal',
  'squeeze-length',
  'fingers-support',
  'firm-surface',
  'ventilation-corrected',
  'airway-secured',
  'oxygen-raised',
] as const;
export type TickItem = (typeof TICK_ITEMS)[number];
export type TickSeen = 'met' | 'not met' | 'not seen';

/** What was ticked last, by whom, and when on the drill's clock. */
export type Tick = { seen: TickSeen; by: TickLine['by']; atMs: Ms };
/** A bout's ticks by item; an item nobody ticked is not there. */
export type BoutTicks = Readonly<Record<string, Tick>>;

/** So many are on the screen at a time: nobody looks for more at once (design section 1). */
const MOST_AT_ONCE = 5;

export type TickSituation = {
  rig: Rig;
  technique: Technique;
  stance: Stance;
  airway: Airway;
  /** Before the drill's first compression. */
  isBefore: boolean;
};

/** What there is to tick now, at most five a page, what matters most first. On a rhythm rig there is nothing to tick. */
export function tickPages({ rig, technique, stance, airway, isBefore }: TickSituation): TickItem[][] {
  if (rig === 'rhythm') return [];
  const seal: TickItem[] = airway === 'mask' ? ['mask-seal'] : [];
  if (isBefore) {
    const corrections: TickItem[] = ['ventilation-corrected', 'airway-secured', 'oxygen-raised'];
    return pagesOf(['chest-rise', ...seal, ...corrections, 'squeeze-length']);
  }
  const support: TickItem[] =
    technique === 'two-thumb' ? ['fingers-support', 'firm-surface'] : ['firm-surface'];
  const more: TickItem[] = [...seal, 'squeeze-length'];
  // From the side the hands cannot meet behind the back as they do from an end: there the surface matters most.
  const byStance = stance === 'side' ? [...support.reverse(), ...more] : [...more, ...support];
  return pagesOf(['chest-rise', 'full-release', 'depth', 'position', 'counts-aloud', ...byStance]);
}

/** A key pressed again: met, not met, not seen, and from the start. */
export function nextSeen(seen: TickSeen | undefined): TickSeen {
  if (seen === 'met') return 'not met';
  return seen === 'not met' ? 'not seen' : 'met';
}

/** The journal's `met` for what was seen: null is "looked for and not seen". */
export function metOf(seen: TickSeen): boolean | null {
  return seen === 'not seen' ? null : seen === 'met';
}

/**
 * The ticks of each bout: a tick counts for the bout at its time, else the one before, else the first; of each item the
 * latest in the bout, an instructor's before an observer's. At the very time of a bout's start it is that bout's. Without a bout there are none.
 */
export function ticksByBout(ticks: readonly TickLine[], boutStartsUs: readonly Us[]): BoutTicks[] {
  const byBout: Record<string, Tick>[] = boutStartsUs.map(() => ({}));
  for (const { at, item, met, by } of ticks) {
    const bout =
      byBout[
        Math.max(
          0,
          boutStartsUs.findLastIndex((startUs) => startUs <= toUs(at)),
        )
      ];
    if (bout === undefined || (by === 'observer' && bout[item]?.by === 'instructor')) continue;
    const seen = met === null ? 'not seen' : met ? 'met' : 'not met';
    bout[item] = { seen, by, atMs: toMs(toUs(at)) };
  }
  return byBout;
}

/** Without these four there is no praise: a pair that taps can be in perfect time (design section 1). */
export const PRAISE_NEEDS = ['chest-rise', 'full-release', 'depth', 'position'] as const satisfies TickItem[];

/** May a bout be praised? Not where chest rise, release, depth or position is unmet, unseen or was not ticked. */
export function mayBePraised(ticks: BoutTicks): boolean {
  return PRAISE_NEEDS.every((item) => ticks[item]?.seen === 'met');
}

function pagesOf(items: readonly TickItem[]): TickItem[][] {
  const pages: TickItem[][] = [];
  for (let from = 0; from < items.length; from += MOST_AT_ONCE)
    pages.push(items.slice(from, from + MOST_AT_ONCE));
  return pages;
}
