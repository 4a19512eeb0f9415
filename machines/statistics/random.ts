/**
 * Seeded random numbers. The generator is xoshiro128** 1.1 (Blackman D, Vigna S, ACM Trans Math Softw 2021;47:36;
 * prng.di.unimi.it/xoshiro128starstar.c, public domain), its state filled by SplitMix64 (splitmix64.c, same place)
 * as its authors advise. A state belongs to the caller, and each draw moves it on; there is nothing global.
 * The whole numbers are the same everywhere; normal draws go through the engine's `log`, which may differ in the last digit.
 */

/** The generator's four 32-bit words; never all zero. */
export type RandomState = Uint32Array;

const GOLDEN_GAMMA = 0x9e3779b97f4a7c15n;

/**
 * A state for a seed (a whole number from 0) and a stream, so that one use of chance does not disturb another:
 * stream k takes the k-th pair of SplitMix64's outputs. Throws a RangeError on any other seed or stream.
 */
export function seedRandom(seed: number, stream = 0): RandomState {
  for (const number of [seed, stream]) {
    if (!Number.isSafeInteger(number) || number < 0)
      throw new RangeError(`${number} is not a whole number from 0`);
  }
  const state = new Uint32Array(4);
  for (const half of [0, 1]) {
    const word = splitMix64(BigInt(seed), 2n * BigInt(stream) + BigInt(half));
    state[2 * half] = Number(word & 0xffffffffn);
    state[2 * half + 1] = Number(word >> 32n);
  }
  return state;
}

/** The output of SplitMix64 at a place (from 0) in the sequence of a seed: a whole number of 64 bits. */
export function splitMix64(seed: bigint, place: bigint): bigint {
  const mix = (z: bigint, shift: bigint, factor: bigint) => BigInt.asUintN(64, (z ^ (z >> shift)) * factor);
  const start = BigInt.asUintN(64, seed + (place + 1n) * GOLDEN_GAMMA);
  const mixed = mix(mix(start, 30n, 0xbf58476d1ce4e5b9n), 27n, 0x94d049bb133111ebn);
  return mixed ^ (mixed >> 31n);
}

/** The next whole number, 0 to 2³² − 1. */
export function nextUint32(state: RandomState): number {
  let a = state[0] as number;
  let b = state[1] as number;
  let c = state[2] as number;
  let d = state[3] as number;
  const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
  const carried = b << 9;
  c ^= a;
  d ^= b;
  b ^= c;
  a ^= d;
  state[0] = a;
  state[1] = b;
  state[2] = c ^ carried;
  state[3] = rotateLeft(d, 11);
  return result;
}

/** The next number from 0 up to but not including 1, in steps of 2⁻⁵³. */
export function nextUniform(state: RandomState): number {
  const high = nextUint32(state) >>> 5;
  const low = nextUint32(state) >>> 6;
  return (high * 2 ** 26 + low) / 2 ** 53;
}

/** True with the given probability, 0 to 1; takes one uniform draw whatever the probability. */
export function nextChance(state: RandomState, probability: number): boolean {
  return nextUniform(state) < probability;
}

/** The next draw from the standard normal distribution (Marsaglia's polar method; its second draw is thrown away). */
export function nextNormal(state: RandomState): number {
  for (;;) {
    const u = 2 * nextUniform(state) - 1;
    const v = 2 * nextUniform(state) - 1;
    const square = u * u + v * v;
    if (square > 0 && square < 1) return u * Math.sqrt((-2 * Math.log(square)) / square);
  }
}

/** The next draw from a lognormal distribution, above 0: `median` in any unit, `sigma` the sd of the natural logarithm. */
export function nextLogNormal(state: RandomState, median: number, sigma: number): number {
  return median * Math.exp(sigma * nextNormal(state));
}

function rotateLeft(word: number, bits: number): number {
  return (word << bits) | (word >>> (32 - bits));
}
