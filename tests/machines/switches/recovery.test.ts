import { expect, test } from 'vitest';
import { none } from '../../../machines/scoring/figure.ts';
import { nextUniform } from '../../../machines/statistics/random.ts';
import { autoRepeatOf } from '../../../machines/switches/auto-repeat.ts';
import { bounceLimitMs, bounceOf } from '../../../machines/switches/bounce.ts';
import { contactsOf, type SwitchStamp } from '../../../machines/switches/contacts.ts';
import { offsetBetween } from '../../../machines/switches/offset.ts';
import { releaseOf } from '../../../machines/switches/release.ts';
import { timeStepOf } from '../../../machines/switches/time-step.ts';
import { CLEAN, type Device, randomFor, stampsOf, tapsOf, together } from '../../support/switch-stream.ts';

/** What was planted is found again within the error that goes with it, over many seeds. */
const SEEDS = Array.from({ length: 200 }, (_, seed) => seed);
const streamOf = (seed: number, presses: number, device: Partial<Device>): SwitchStamp[] => {
  const random = randomFor(seed);
  return stampsOf(random, 'chest', tapsOf(random, presses), { ...CLEAN, ...device });
};
/** The share of seeds in which it holds. */
const shareOf = (holds: (seed: number) => boolean) => SEEDS.filter(holds).length / SEEDS.length;

test.each([
  ['a 125 Hz device', { pollMs: 8, jitterMs: 0.3 }, 1],
  ['a 125 Hz device told in whole ms', { pollMs: 8, jitterMs: 0.3, clockMs: 1 }, 1],
  ['a 125 Hz device whose clock is 0.02 % off', { pollMs: 8.0016, jitterMs: 0.3 }, 1],
  ['a 125 Hz device with much jitter', { pollMs: 8, jitterMs: 0.8 }, 0.9],
  ['a 250 Hz device', { pollMs: 4, jitterMs: 0.2 }, 1],
  ['a 1000 Hz device', { pollMs: 1, jitterMs: 0.05, clockMs: 0.005 }, 1],
  ['a page that looks at 60 Hz', { pollMs: 1000 / 60, jitterMs: 0.2 }, 1],
])('the time step of %s is found within its error, and never another', (_, device, leastFound) => {
  const found = SEEDS.map((seed) => timeStepOf(streamOf(seed, 40, device))).filter(
    (step) => 'stepMs' in step,
  );
  expect(found.length / SEEDS.length).toBeGreaterThanOrEqual(leastFound);
  expect(found.filter(({ stepMs }) => Math.abs(stepMs / device.pollMs - 1) > 0.005)).toEqual([]);
  const within = found.filter(({ stepMs, errorMs }) => Math.abs(stepMs - device.pollMs) <= errorMs);
  expect(within.length / found.length).toBeGreaterThanOrEqual(0.93);
});

test('stamps in whole milliseconds, or in a page’s tenths, show that step', () => {
  for (const clockMs of [1, 0.1]) {
    const steps = SEEDS.map((seed) => timeStepOf(streamOf(seed, 40, { clockMs })));
    expect(steps.every((step) => 'stepMs' in step && Math.abs(step.stepMs - clockMs) < 0.001)).toBe(true);
  }
});

test('a step is not told where there is none to see, and where there are too few presses', () => {
  const free = SEEDS.map((seed) => timeStepOf(streamOf(seed, 40, { clockMs: 0.001, jitterMs: 0.01 })));
  expect(free).toEqual(SEEDS.map(() => none('not told: no step from 0.005 to 20 ms shows')));
  const drowned = SEEDS.map((seed) =>
    timeStepOf(streamOf(seed, 40, { pollMs: 8, jitterMs: 4, clockMs: 0.001 })),
  );
  expect(drowned.filter((step) => 'stepMs' in step)).toEqual([]);
  expect(timeStepOf(streamOf(1, 20, { pollMs: 8 }))).toEqual(
    none('not told: 39 of 40 intervals between stamps'),
  );
  const metronome = Array.from({ length: 60 }, (_, k) => ({
    switch: 'chest' as const,
    down: k % 2 === 0,
    atMs: 250 * k,
  }));
  expect(timeStepOf(metronome)).toEqual(none('not told: the presses were too alike'));
});

test('the longest bounce is found within its error, on press and on release, and the limit is over it', () => {
  let found = 0;
  for (const seed of SEEDS) {
    const planted = 2 + (seed % 19);
    const stamps = streamOf(seed, 20, { bounceMs: planted, clockMs: 1 });
    const bounce = bounceOf(contactsOf(stamps, 'chest'), 1);
    if (!('n' in bounce)) continue;
    found += 1;
    expect(bounce).toMatchObject({ n: 20, errorMs: 1, onPress: { presses: 20 }, onRelease: { presses: 20 } });
    // Twenty draws from the upper seven tenths of it: the longest comes within a quarter of it.
    for (const { longestMs } of [bounce.onPress, bounce.onRelease]) {
      expect(longestMs).toBeLessThanOrEqual(planted + bounce.errorMs);
      expect(longestMs).toBeGreaterThanOrEqual(0.7 * planted - bounce.errorMs);
    }
    const limit = bounceLimitMs([bounce]);
    expect(limit).toBeGreaterThanOrEqual(Math.min(50, Math.max(25, 1.4 * planted)));
  }
  expect(found).toBe(SEEDS.length);
});

test('a bounce that an 8 ms device sees is longer by less than its step; a short one it does not see at all', () => {
  for (const seed of SEEDS) {
    const bounce = bounceOf(contactsOf(streamOf(seed, 20, { bounceMs: 6, pollMs: 8 }), 'chest'), 8);
    if (!('n' in bounce)) throw new Error('twenty presses are enough');
    expect(bounce.longestMs).toBeLessThanOrEqual(6 + bounce.errorMs);
  }
});

test('clean contacts have no bounce, and the drill keeps 25 ms', () => {
  const bounce = bounceOf(contactsOf(streamOf(3, 20, {}), 'chest'), 0.1);
  expect(bounce).toEqual({
    onPress: { presses: 0, longestMs: 0 },
    onRelease: { presses: 0, longestMs: 0 },
    longestMs: 0,
    errorMs: 0.1,
    n: 20,
    longerShare: 1 - 0.05 ** (1 / 20),
  });
  if ('n' in bounce) expect(bounceLimitMs([bounce])).toBe(25);
});

test('contacts that bounce for over 24 ms fit no limit', () => {
  const taps = tapsOf(randomFor(1), 10, 1000, 300);
  const stamps = taps.flatMap(({ onMs, offMs }) => [
    { switch: 'chest' as const, down: true, atMs: onMs },
    { switch: 'chest' as const, down: false, atMs: onMs + 10 },
    { switch: 'chest' as const, down: true, atMs: onMs + 40 },
    { switch: 'chest' as const, down: false, atMs: offMs },
  ]);
  const bounce = bounceOf(contactsOf(stamps, 'chest'), 1);
  if (!('n' in bounce)) throw new Error('ten presses are enough');
  expect(bounce.longestMs).toBeCloseTo(30, 9);
  expect(bounceLimitMs([bounce])).toEqual(
    none('a switch bounces so long that 61 ms would be needed: a real release can be as short'),
  );
});

test('auto-repeat is found within its error; a switch that sends none is told from one that was not held', () => {
  for (const seed of SEEDS) {
    const afterMs = 250 + (seed % 6) * 50;
    const everyMs = 25 + (seed % 9);
    const random = randomFor(seed);
    const held = tapsOf(random, 3, 1000, 1500);
    const repeating = stampsOf(random, 'chest', held, { ...CLEAN, clockMs: 1, repeat: { afterMs, everyMs } });
    const found = autoRepeatOf(contactsOf(repeating, 'chest'), 1);
    if (!('n' in found)) throw new Error('held for a second and a half');
    expect(found).toMatchObject({ isRepeating: true, n: 3, errorMs: 1 });
    expect(Math.abs(Number(found.afterMs) - afterMs)).toBeLessThanOrEqual(found.errorMs);
    expect(Math.abs(Number(found.everyMs) - everyMs)).toBeLessThanOrEqual(found.errorMs);
  }
  const once = none('it does not repeat');
  const quiet = stampsOf(randomFor(1), 'chest', tapsOf(randomFor(1), 2, 1000, 1500), CLEAN);
  expect(autoRepeatOf(contactsOf(quiet, 'chest'), 1)).toEqual({
    isRepeating: false,
    afterMs: once,
    everyMs: once,
    errorMs: 1,
    n: 2,
  });
  expect(autoRepeatOf(contactsOf(streamOf(1, 5, {}), 'chest'), 1)).toEqual(
    none('no press was held for a second'),
  );
});

test('a slow release is told from a fast one', () => {
  for (const seed of SEEDS) {
    const random = randomFor(seed);
    const taps = tapsOf(random, 10, 1000, 60);
    const shortest = Math.min(...taps.map(({ onMs, offMs }) => offMs - onMs));
    for (const [stickyMs, isSlow] of [
      [0, false],
      [110, true],
    ] as const) {
      const release = releaseOf(
        contactsOf(stampsOf(random, 'chest', taps, { ...CLEAN, pollMs: 8, stickyMs }), 'chest'),
        8,
      );
      if (!('n' in release)) throw new Error('ten taps are enough');
      expect(release).toMatchObject({ isSlow, n: 10, errorMs: 8 });
      expect(Math.abs(release.shortestMs - shortest - stickyMs)).toBeLessThanOrEqual(release.errorMs + 0.1);
    }
  }
  expect(releaseOf(contactsOf(streamOf(1, 7, {}), 'chest'), 1)).toEqual(none('7 presses of 8 wanted'));
});

test.each([
  ['two keys of 1 ms', { clockMs: 1 }, { clockMs: 1 }],
  ['a key and a 125 Hz pad', { clockMs: 1 }, { pollMs: 8, jitterMs: 0.3 }],
  ['two 125 Hz devices with jitter', { pollMs: 8, jitterMs: 1 }, { pollMs: 8, jitterMs: 1 }],
])('the offset between %s is found within its error', (_, one, other) => {
  const steps = [one, other].map((device) => ('pollMs' in device ? device.pollMs : 1)) as [number, number];
  const errors: number[] = [];
  const within = shareOf((seed) => {
    const random = randomFor(seed);
    const offsetMs = -40 + (seed % 81);
    // One object does not reach both at the same instant: 1.5 ms either way.
    const taps = tapsOf(random, 10);
    const skewed = taps.map(({ onMs, offMs }) => ({ onMs: onMs + 3 * nextUniform(random) - 1.5, offMs }));
    const late = Math.max(0, offsetMs);
    const early = Math.max(0, -offsetMs);
    const stamps = together(
      stampsOf(random, 'chest', taps, { ...CLEAN, ...one, lateMs: early }),
      stampsOf(random, 'airway', skewed, { ...CLEAN, ...other, lateMs: late }),
    );
    const offset = offsetBetween(stamps, ['chest', 'airway'], steps);
    if (!('n' in offset)) throw new Error(offset.reason);
    expect(offset.n).toBe(10);
    errors.push(offset.errorMs);
    // A poll is seen half a step late on average: that is an offset too, and a true one.
    const truth = offsetMs + (steps[1] > 1 ? steps[1] / 2 : 0) - (steps[0] > 1 ? steps[0] / 2 : 0);
    return Math.abs(offset.medianMs - truth) <= offset.errorMs;
  });
  expect(within).toBeGreaterThanOrEqual(0.95);
  expect(Math.max(...errors)).toBeLessThanOrEqual(2.5 + 1.5 * Math.max(...steps));
});

test('an offset needs six presses of both at once, and is not told when the switches are far apart', () => {
  const random = randomFor(5);
  const taps = tapsOf(random, 5);
  const both = (count: number, lateMs: number) =>
    together(
      stampsOf(random, 'A', taps.slice(0, count), CLEAN),
      stampsOf(random, 'B', taps.slice(0, count), { ...CLEAN, lateMs }),
    );
  const between = (stamps: readonly SwitchStamp[]) => offsetBetween(stamps, ['A', 'B'], [0.1, 0.1]);
  expect(between(both(5, 0))).toEqual(none('5 presses of both switches at once, 6 are needed'));
  const alone = stampsOf(random, 'B', tapsOf(random, 10, 20_000), CLEAN);
  expect(between(together(both(0, 0), alone))).toEqual(none('no press of both switches at once'));
  const wide = tapsOf(randomFor(6), 10, 1000, 400);
  const apart = together(
    stampsOf(random, 'A', wide, CLEAN),
    stampsOf(random, 'B', wide, { ...CLEAN, lateMs: 120 }),
  );
  expect(between(apart)).toEqual(none('the switches are 120 ms apart: look for the cause'));
});
