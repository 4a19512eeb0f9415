import { HEART_RATE_WAYS, type HeartRateWay } from './journal.ts';
import type { Ms } from './units.ts';

/** Taps are heard for so long, a check's first part (tool default: many courses count for 6 s and add a nought). */
const TAPS_MS: Ms = 6000;
/** No tap is played until so long after the last compression, in a bout or not: it would be heard as a count (tool default). */
const QUIET_MS: Ms = 2000;
export const MOST_BPM = 300;

export type RateSituation = {
  stage: string;
  lastCompressionMs: Ms | null;
  /** A count is given now, or is about to be. */
  isCounted: boolean;
  hasSound: boolean;
};

/**
 * The ways in which a heart rate can be given now. It can always be said. While the pair compresses it is neither shown nor
 * tapped, nor tapped within 2 s of a compression; and where the count is shown nothing takes its place.
 */
export function rateWays(now: RateSituation, nowMs: Ms): HeartRateWay[] {
  const isCompressing = now.stage === 'compressing';
  const isQuiet = now.lastCompressionMs === null || nowMs - now.lastCompressionMs >= QUIET_MS;
  const can: Record<HeartRateWay, boolean> = {
    voice: true,
    sight: !isCompressing && !now.isCounted,
    taps: !isCompressing && !now.isCounted && isQuiet && now.hasSound,
  };
  return HEART_RATE_WAYS.filter((way) => can[way]);
}

/** How many taps make a rate, in beats a minute, audible over 6 s; 0 is silence. */
export function tapsFor(bpm: number): number {
  return Math.round((bpm * TAPS_MS) / 60_000);
}

/** The number that is being entered: typed digit by digit, or stepped by ten. It is given when it is confirmed, never by time. */
export type RateEntry = { bpm: number; isTyped: boolean; way: HeartRateWay };

/** Opens at the rate announced last, or under 60 where none was, to be said. */
export function openRateEntry(lastBpm: number | null): RateEntry {
  return { bpm: lastBpm ?? 50, isTyped: false, way: 'voice' };
}

/** A first digit takes the number's place; one that would make more than 300 is left out. */
export function withDigit(entry: RateEntry, digit: number): RateEntry {
  const bpm = entry.isTyped ? entry.bpm * 10 + digit : digit;
  return bpm > MOST_BPM ? entry : { ...entry, bpm, isTyped: true };
}

export function withoutDigit(entry: RateEntry): RateEntry {
  return { ...entry, bpm: Math.floor(entry.bpm / 10), isTyped: true };
}

export function stepped(entry: RateEntry, by: number): RateEntry {
  return { ...entry, bpm: Math.min(MOST_BPM, Math.max(0, entry.bpm + by)), isTyped: false };
}

/** The next of the ways there are now. */
export function withNextWay(entry: RateEntry, ways: readonly HeartRateWay[]): RateEntry {
  return { ...entry, way: ways[(ways.indexOf(entry.way) + 1) % ways.length] ?? 'voice' };
}

/** The chosen way, or by voice where that is not to be had any more. */
export function wayNow({ way }: RateEntry, ways: readonly HeartRateWay[]): HeartRateWay {
  return ways.includes(way) ? way : 'voice';
}
