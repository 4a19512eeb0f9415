import type { Ms } from '../units.ts';

/** The four beats of a cycle, in their order. */
export const BEAT_KINDS = ['one', 'two', 'three', 'breathe'] as const;
export type BeatKind = (typeof BEAT_KINDS)[number];

/** Where the count stands: one of its beats, and how long its cycle is. Both on the same clock. */
export type CountAnchor = { atMs: Ms; beat: BeatKind; cycleMs: Ms };
export type Beat = { atMs: Ms; beat: BeatKind };

/** Beats of one call at the most: 24 hours at two beats a second. A longer list is a mistake. */
const MAX_BEATS = 172_800;

/**
 * The beats that fall in fromMs ≤ atMs < toMs, in order, the first of them a "one": a count is never joined within a
 * cycle. The last need not be a "breathe". Each time is computed from the anchor, so no error adds up.
 * Times are on the anchor's clock. Throws a RangeError where the cycle is not longer than 0 or the span has no end.
 */
export function beatsBetween(anchor: CountAnchor, fromMs: Ms, toMs: Ms): Beat[] {
  const beats: Beat[] = [];
  const cycle = cycleFrom(anchor, fromMs);
  if (((toMs - fromMs) / anchor.cycleMs) * BEAT_KINDS.length > MAX_BEATS || !Number.isFinite(toMs)) {
    throw new RangeError(`Too long a span for beats: ${fromMs} to ${toMs} ms`);
  }
  for (let index = cycle * BEAT_KINDS.length; ; index += 1) {
    const beat = beatAt(anchor, index);
    if (beat.atMs >= toMs) return beats;
    beats.push(beat);
  }
}

/** The first "one" at or after a time, on the anchor's clock. */
export function nextOneMs(anchor: CountAnchor, fromMs: Ms): Ms {
  return beatAt(anchor, cycleFrom(anchor, fromMs) * BEAT_KINDS.length).atMs;
}

/**
 * The beat that a time is nearest to, before or after the anchor alike, and how far the time is from it: early is
 * negative, in ms; half a beat at the most. A time midway between two belongs to the later one.
 */
export function nearestBeat(anchor: CountAnchor, atMs: Ms): Beat & { asynchronyMs: Ms } {
  const beatMs = anchor.cycleMs / BEAT_KINDS.length;
  const beat = beatAt(anchor, Math.round((atMs - anchor.atMs) / beatMs) + BEAT_KINDS.indexOf(anchor.beat));
  return { ...beat, asynchronyMs: atMs - beat.atMs };
}

/** The cycle, counted from the anchor's own, whose "one" is the first at or after a time. */
function cycleFrom(anchor: CountAnchor, fromMs: Ms): number {
  if (!(anchor.cycleMs > 0)) throw new RangeError(`Not a cycle: ${anchor.cycleMs} ms`);
  let cycle = Math.ceil((fromMs - beatAt(anchor, 0).atMs) / anchor.cycleMs);
  // The division may round either way at a "one" itself.
  if (beatAt(anchor, cycle * BEAT_KINDS.length).atMs < fromMs) cycle += 1;
  if (beatAt(anchor, (cycle - 1) * BEAT_KINDS.length).atMs >= fromMs) cycle -= 1;
  return cycle;
}

/** The beat so many after the "one" of the anchor's cycle. */
function beatAt(anchor: CountAnchor, index: number): Beat {
  const { length } = BEAT_KINDS;
  const fromAnchor = index - BEAT_KINDS.indexOf(anchor.beat);
  const beat = BEAT_KINDS[((index % length) + length) % length] ?? 'one';
  return { atMs: anchor.atMs + (fromAnchor * anchor.cycleMs) / length, beat };
}
