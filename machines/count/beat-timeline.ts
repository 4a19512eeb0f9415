import type { CountLine, CountSense } from '../journal.ts';
import { type Ms, toMs, toUs, type Us } from '../units.ts';
import { BEAT_KINDS, type BeatKind } from './beats.ts';

/** Beats at one reading of the count: from a "one" on, up to but not with `toUs` (without end while it goes on). */
export type BeatStretch = { by: CountSense; fromUs: Us; cycleUs: Us; toUs: Us };
/** Time in which the count was given without a gap, in whatever readings. */
type Span = { fromUs: Us; toUs: Us };

/** Every beat that was given, from a journal's count lines. */
export class BeatTimeline {
  /** In order of time, none of them empty. */
  private parts: BeatStretch[] = [];
  private joined: Span[] | null = null;

  take(line: CountLine): void {
    this.joined = null;
    const last = this.parts.at(-1);
    if (line.what === 'given') {
      const cycleUs = toUs(line.cycleMs);
      const fromUs = toUs(line.fromMs) - (BEAT_KINDS.indexOf(line.beat) * cycleUs) / BEAT_KINDS.length;
      this.endAt(fromUs);
      this.parts.push({ by: line.by, fromUs, cycleUs, toUs: Number.POSITIVE_INFINITY });
    } else if (last !== undefined) {
      // The last beat has its quarter of the cycle; where none was given, nothing of that count has.
      this.endAt(line.lastMs === null ? last.fromUs : toUs(line.lastMs) + last.cycleUs / BEAT_KINDS.length);
    }
  }

  get stretches(): readonly BeatStretch[] {
    return this.parts;
  }

  /** The reading of the count that goes on, or null. */
  get current(): BeatStretch | null {
    const last = this.parts.at(-1);
    return last?.toUs === Number.POSITIVE_INFINITY ? last : null;
  }

  /** How far a time is from the nearest heard beat of a kind, early negative; null where none is within half a cycle. */
  asynchronyMs(kind: BeatKind, atUs: Us): Ms | null {
    let nearestUs: Us | null = null;
    for (const stretch of around(this.parts, atUs)) {
      const offUs = stretch.by === 'sound' ? offFromBeat(stretch, kind, atUs) : null;
      if (offUs !== null && (nearestUs === null || Math.abs(offUs) < Math.abs(nearestUs))) nearestUs = offUs;
    }
    return nearestUs === null ? null : toMs(nearestUs);
  }

  /** Was the count given all through a cycle? Half a beat either way is the pair's leeway; null: through a part of it. */
  isGivenIn(fromUs: Us, toUs: Us, idealUs: Us): boolean | null {
    const leewayUs = idealUs / BEAT_KINDS.length / 2;
    let isTouched = false;
    for (const span of around(this.spans, fromUs)) {
      if (fromUs >= span.fromUs - leewayUs && toUs <= span.toUs + leewayUs) return true;
      isTouched ||= fromUs < span.toUs - leewayUs && toUs > span.fromUs + leewayUs;
    }
    return isTouched ? null : false;
  }

  private get spans(): readonly Span[] {
    if (this.joined !== null) return this.joined;
    this.joined = [];
    for (const { fromUs, toUs } of this.parts) {
      const last = this.joined.at(-1);
      if (last !== undefined && fromUs <= last.toUs) last.toUs = toUs;
      else this.joined.push({ fromUs, toUs });
    }
    return this.joined;
  }

  /** No beat of what was said before is at or after a time. */
  private endAt(atUs: Us): void {
    while ((this.parts.at(-1)?.fromUs ?? Number.NEGATIVE_INFINITY) >= atUs) this.parts.pop();
    const last = this.parts.at(-1);
    if (last !== undefined) last.toUs = Math.min(last.toUs, atUs);
  }
}

/** From the nearest beat of a kind in a stretch, if it was given; at most half a cycle away. */
function offFromBeat({ fromUs, cycleUs, toUs }: BeatStretch, kind: BeatKind, atUs: Us): Us | null {
  const firstUs = fromUs + (BEAT_KINDS.indexOf(kind) * cycleUs) / BEAT_KINDS.length;
  const beatUs = firstUs + Math.max(0, Math.round((atUs - firstUs) / cycleUs)) * cycleUs;
  return beatUs < toUs && Math.abs(atUs - beatUs) <= cycleUs / 2 ? atUs - beatUs : null;
}

/** What begins last at or before a time, with its neighbours, of things in order of time. */
function around<T extends Span>(ordered: readonly T[], atUs: Us): readonly T[] {
  let low = 0;
  let high = ordered.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((ordered[middle]?.fromUs ?? 0) <= atUs) low = middle + 1;
    else high = middle;
  }
  return ordered.slice(Math.max(0, low - 2), low + 1);
}
