import type { ClockPair, Seconds } from '../../machines/count/clock-fit.ts';
import type { Ms } from '../../machines/units.ts';

/** A render quantum of Web Audio: 128 samples at 48 kHz. */
export const QUANTUM_S: Seconds = 128 / 48_000;

export type MadeClocks = {
  seed: number;
  /** Positive: the drill's clock gains on the audio clock. */
  ppm: number;
  seconds: Seconds;
  /** Audio times rounded down to a quantum; else off by up to half of one to either side. */
  roundedDown?: boolean;
  /** Share of readings whose drill time comes up to 30 ms late, as when the page is put aside between the two. */
  lateShare?: number;
  jump?: { atS: Seconds; ms: Ms };
  everyS?: Seconds;
};

/** Readings of two made-up clocks, at uneven times, one a second if not told otherwise, and the truth behind them. */
export function makeClockPairs(made: MadeClocks): { pairs: ClockPair[]; drillMsAt: (audioS: Seconds) => Ms } {
  const random = makeRandom(made.seed);
  const drillMsAt = (audioS: Seconds): Ms =>
    123.456 +
    audioS * 1000 * (1 + made.ppm / 1e6) +
    (made.jump !== undefined && audioS >= made.jump.atS ? made.jump.ms : 0);
  const everyS = made.everyS ?? 1;
  const pairs = Array.from({ length: made.seconds / everyS }, (_, index) => {
    const trueS = 0.5 + index * everyS + random() * 0.05;
    const late = random() < (made.lateShare ?? 0) ? random() * 30 : 0;
    const audioS = made.roundedDown
      ? Math.floor(trueS / QUANTUM_S) * QUANTUM_S
      : trueS + (random() - 0.5) * QUANTUM_S;
    // A page clock moves in steps of 0.1 ms.
    return { audioS, drillMs: Math.round((drillMsAt(trueS) + late) * 10) / 10 };
  });
  return { pairs, drillMsAt };
}

/** Mulberry32: a small generator with a seed, 0 to 1. */
export function makeRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
