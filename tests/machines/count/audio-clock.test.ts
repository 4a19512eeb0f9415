import { describe, expect, it } from 'vitest';
import { AudioClock, type PairOutcome } from '../../../machines/count/audio-clock.ts';
import type { ClockPair } from '../../../machines/count/clock-fit.ts';
import { makeClockPairs, QUANTUM_S } from '../../support/clock-pairs.ts';

const SEEDS = [1, 2, 3, 4, 5];
const MINUTE = 60;

function takeAll(clock: AudioClock, pairs: readonly ClockPair[]): PairOutcome[] {
  return pairs.map((pair) => clock.take(pair));
}

describe.each(SEEDS)('with readings rounded down to a render quantum, seed %i', (seed) => {
  it.each([-200, -37, 0, 50, 200])('%i ppm of drift is followed to under 1 ms over ten minutes', (ppm) => {
    const made = makeClockPairs({ seed, ppm, seconds: 10 * MINUTE, roundedDown: true });
    const clock = new AudioClock({ stepS: QUANTUM_S });
    const errors = made.pairs.map((pair) => {
      clock.take(pair);
      // What the count needs: the time of a beat one and a half seconds ahead.
      const ahead = pair.audioS + 1.5;
      return { audioS: pair.audioS, errorMs: (clock.toDrillMs(ahead) ?? Number.NaN) - made.drillMsAt(ahead) };
    });
    const worst = (from: number) =>
      Math.max(...errors.filter(({ audioS }) => audioS > from).map(({ errorMs }) => Math.abs(errorMs)));
    expect(worst(10 * MINUTE - 5)).toBeLessThan(0.5);
    expect(worst(30)).toBeLessThan(1);
    expect(worst(2)).toBeLessThan(2);
    // 120 readings of 0.77 ms sd know the drift to 2 ppm (sd).
    expect(Math.abs(((clock.msPerAudioSecond ?? 0) - 1000) * 1000 - ppm)).toBeLessThan(7);
  });
});

describe.each(SEEDS)('with readings off to both sides and late ones among them, seed %i', (seed) => {
  it('a tenth of the readings up to 30 ms late moves the line by under 1 ms, and its own error says so', () => {
    const made = makeClockPairs({ seed, ppm: 120, seconds: 5 * MINUTE, lateShare: 0.1 });
    const clock = new AudioClock();
    const outcomes = takeAll(clock, made.pairs);
    const end = made.pairs.at(-1)?.audioS ?? 0;
    const errorMs = Math.abs((clock.toDrillMs(end) ?? Number.NaN) - made.drillMsAt(end));
    expect(errorMs).toBeLessThan(0.5);
    expect(errorMs).toBeLessThan(3 * (clock.errorMsAt(end) ?? 0));
    expect(outcomes).not.toContain('anew');
  });

  it('a jump of the audio clock starts the line anew, and is followed to under 2 ms at once', () => {
    const made = makeClockPairs({ seed, ppm: -80, seconds: 2 * MINUTE, jump: { atS: 60, ms: 40 } });
    const clock = new AudioClock();
    const outcomes = takeAll(clock, made.pairs);
    expect(outcomes.filter((outcome) => outcome === 'anew')).toHaveLength(1);
    const jumpedAt = made.pairs[outcomes.indexOf('anew')];
    expect((jumpedAt?.audioS ?? 0) - 60).toBeLessThan(4);
    const end = made.pairs.at(-1)?.audioS ?? 0;
    expect(Math.abs((clock.toDrillMs(end) ?? Number.NaN) - made.drillMsAt(end))).toBeLessThan(1);
  });
});

it('a context that slept is met again where it is, and what was before is forgotten', () => {
  const clock = new AudioClock();
  takeAll(
    clock,
    pairsAt(40, (index) => ({ audioS: index / 4, drillMs: 1000 + index * 250 })),
  );
  // Five seconds asleep: the audio clock stands while the drill's goes on.
  const asleep = takeAll(
    clock,
    pairsAt(20, (index) => ({ audioS: 9.75, drillMs: 11_000 + index * 250 })),
  );
  expect(new Set(asleep)).toEqual(new Set(['aside']));
  const awake = takeAll(
    clock,
    pairsAt(4, (index) => ({ audioS: 10 + index / 4, drillMs: 16_250 + index * 250 })),
  );
  expect(awake).toEqual(['aside', 'aside', 'aside', 'anew']);
  expect(clock.toDrillMs(12)).toBeCloseTo(18_250, 6);
});

it('a new context, whose clock starts at 0 again, starts the line anew at once', () => {
  const clock = new AudioClock();
  takeAll(
    clock,
    pairsAt(9, (index) => ({ audioS: index, drillMs: index * 1000 })),
  );
  expect(clock.take({ audioS: 0.1, drillMs: 9000 })).toBe('anew');
  expect(clock.size).toBe(1);
  expect(clock.toDrillMs(0.6)).toBeCloseTo(9500, 6);
});

it('conversions there and back agree, and nothing is said before the first pair', () => {
  const clock = new AudioClock();
  expect([clock.toDrillMs(1), clock.toAudioS(1), clock.msPerAudioSecond, clock.errorMsAt(1)]).toEqual([
    null,
    null,
    null,
    null,
  ]);
  takeAll(clock, makeClockPairs({ seed: 7, ppm: 150, seconds: 30 }).pairs);
  expect(clock.toAudioS(clock.toDrillMs(31.25) ?? 0)).toBeCloseTo(31.25, 9);
  clock.forget();
  expect(clock.toDrillMs(1)).toBeNull();
});

it('one pair alone is taken at the nominal speed, and the error it states grows away from it', () => {
  const clock = new AudioClock();
  clock.take({ audioS: 2, drillMs: 500 });
  expect(clock.toDrillMs(3)).toBe(1500);
  expect(clock.errorMsAt(2) ?? 0).toBeGreaterThan(5);
  expect(clock.errorMsAt(62) ?? 0).toBeGreaterThan(clock.errorMsAt(2) ?? 0);
});

function pairsAt(count: number, pairOf: (index: number) => ClockPair): ClockPair[] {
  return Array.from({ length: count }, (_, index) => pairOf(index));
}
