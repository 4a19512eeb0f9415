import { type NoFigure, none } from '../scoring/figure.ts';
import type { Ms, Share } from '../units.ts';
import type { Contact } from './contacts.ts';

/** How a switch's contacts bounce on one way: presses that did, of `n`, and the longest time they were open, ms (0: none did). */
export type BounceOneWay = { presses: number; longestMs: Ms };

export type Bounce = {
  onPress: BounceOneWay;
  onRelease: BounceOneWay;
  /** The longest of both ways, ms. */
  longestMs: Ms;
  /** An opening is the difference of two stamps: it is known to within one step of the device, ms. */
  errorMs: Ms;
  /** Presses seen. */
  n: number;
  /** 95 % sure: at most this share of presses bounces longer than the longest seen, 1 − 0.05^(1/n). */
  longerShare: Share;
};

/** Tool default: fewer say too little. With ten, up to a quarter of presses may still bounce longer (see `longerShare`). */
const FEWEST_PRESSES = 10;
/**
 * Tool defaults. The limit is twice the longest bounce seen and a step, so that one half as long again is still caught,
 * never under the 25 ms of an unchecked drill, and never so long that a real release is taken for bounce.
 */
export const MOST_BOUNCE_MS: Ms = 50;
const BOUNCE_LIMIT = { times: 2, leastMs: 25, mostMs: MOST_BOUNCE_MS } as const;

/** A switch's bounce, found from its presses; `stepMs` is its device's time step. Null under ten presses. */
export function bounceOf(contacts: readonly Contact[], stepMs: Ms): Bounce | NoFigure {
  const n = contacts.length;
  if (n < FEWEST_PRESSES) return none(tooFew(n, FEWEST_PRESSES));
  const onPress = oneWay(contacts.map(({ opensOnPress }) => opensOnPress));
  const onRelease = oneWay(contacts.map(({ opensOnRelease }) => opensOnRelease));
  return {
    onPress,
    onRelease,
    longestMs: Math.max(onPress.longestMs, onRelease.longestMs),
    errorMs: stepMs,
    n,
    longerShare: 1 - 0.05 ** (1 / n),
  };
}

/**
 * The bounce limit a drill with these switches should use, in whole ms. Null when one of them bounces
 * so long that no limit keeps bounce and a real release apart.
 */
export function bounceLimitMs(bounces: readonly Bounce[]): Ms | NoFigure {
  const wanted = bounces.map(({ longestMs, errorMs }) => BOUNCE_LIMIT.times * longestMs + errorMs);
  const limit = Math.ceil(Math.max(BOUNCE_LIMIT.leastMs, ...wanted));
  if (limit <= BOUNCE_LIMIT.mostMs) return limit;
  return none(`a switch bounces so long that ${limit} ms would be needed: a real release can be as short`);
}

export function tooFew(n: number, wanted: number): string {
  return `${n} ${n === 1 ? 'press' : 'presses'} of ${wanted} wanted`;
}

function oneWay(opens: readonly (readonly Ms[])[]): BounceOneWay {
  return {
    presses: opens.filter((one) => one.length > 0).length,
    longestMs: Math.max(0, ...opens.flat()),
  };
}
