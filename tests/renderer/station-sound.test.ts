import { expect, test } from 'vitest';
import { FIRST_SOUND } from '../../electron/contract.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { fakeSound } from '../support/fake-sound.ts';

const NOWHERE = { write: () => undefined, note: () => undefined };
const VOICE = { kind: 'voice', language: 'en' };

test('“hear it once” is two cycles of the voice, ended without a clock', () => {
  const { sound, player } = fakeSound(() => 10_000);
  sound.exercise('once', 3000, FIRST_SOUND);
  expect(player.orders).toEqual([{ order: 'start', fromMs: 11_500, cycleMs: 3000, sound: VOICE }]);
  player.started(11_600, 3000);
  expect(player.orders.at(-1)).toEqual({ order: 'stop', afterMs: 11_600 + 6000 - 375 });
  expect(sound.status.exercise?.order).toEqual({ fromMs: 11_600, cycleMs: 3000, endMs: 17_600 });
});

test('“speak it without hands” goes from the voice to the tick at a “one”, for eight more cycles', () => {
  const { sound, player } = fakeSound(() => 0);
  sound.exercise('spoken', 2000, FIRST_SOUND);
  player.started(1500);
  expect(player.orders.at(-1)).toEqual({
    order: 'start',
    fromMs: 5500,
    cycleMs: 2000,
    sound: { kind: 'tick', pitch: FIRST_SOUND.pitch },
  });
  player.started(5500);
  expect(player.orders.at(-1)).toEqual({ order: 'stop', afterMs: 1500 + 20_000 - 250 });
});

test('asked for again it ends; a drill that begins ends it too', () => {
  const { sound, player } = fakeSound(() => 500);
  sound.exercise('once', 2000, FIRST_SOUND);
  sound.exercise('once', 2000, FIRST_SOUND);
  expect(sound.status.exercise).toBe(null);
  sound.exercise('spoken', 2000, FIRST_SOUND);
  sound.beginDrill(new DrillClock(0, () => 500), FIRST_SOUND, NOWHERE);
  expect([sound.status.exercise, player.orders.at(-1)]).toEqual([null, { order: 'stop', afterMs: 500 }]);
  player.started(2000);
  expect(player.orders.at(-1)?.order).toBe('stop');
});

test('with the sound off an exercise is only shown', () => {
  const { sound, player } = fakeSound(() => 0);
  sound.exercise('once', 2000, { ...FIRST_SOUND, isOn: false });
  expect(sound.status.exercise?.order).toEqual({ fromMs: 1500, cycleMs: 2000, endMs: 5500 });
  expect(player.orders).toEqual([]);
});

test('each trouble is known until it is over', () => {
  const { sound, player } = fakeSound();
  player.say({ type: 'trouble', code: 'audio-blocked' });
  player.say({ type: 'trouble', code: 'sound-missing' });
  player.say({ type: 'trouble over', code: 'audio-blocked' });
  expect(sound.status.troubles).toEqual(['sound-missing']);
});

test('a drill’s count is the tick at the usual tempo and the voice at a slow one, on the drill’s clock', () => {
  const { sound, player } = fakeSound(() => 0);
  const keeper = sound.beginDrill(new DrillClock(7000, () => 7000), FIRST_SOUND, NOWHERE);
  keeper.follow({ fromMs: 2000, cycleMs: 2000, endMs: null });
  keeper.follow({ fromMs: 8000, cycleMs: 3000, endMs: null });
  expect(player.orders.map((one) => (one.order === 'start' ? one.sound : one))).toEqual([
    { kind: 'tick', pitch: FIRST_SOUND.pitch },
    VOICE,
  ]);
  sound.endDrill();
  expect(player.orders.at(-1)).toEqual({ order: 'stop', afterMs: 0 });
});

test('what a plan is about to call is said where sound is on, and what is not yet said can be taken back', () => {
  const { sound, player } = fakeSound(() => 0);
  const clock = new DrillClock(0, () => 0);
  sound.beginDrill(clock, { ...FIRST_SOUND, isOn: false }, NOWHERE);
  sound.warn([{ call: 'swap' }]);
  sound.beginDrill(clock, { ...FIRST_SOUND, volume: 0 }, NOWHERE);
  sound.warn([{ call: 'swap' }]);
  expect(player.said).toEqual([]);
  sound.beginDrill(clock, FIRST_SOUND, NOWHERE);
  sound.warn([{ call: 'swap' }, { call: 'technique', technique: 'two-finger' }]);
  sound.warn([]);
  // Nothing of this is for the pair.
  sound.warn([{ call: 'guidance', guidance: 'unled' }]);
  sound.warn([{ call: 'finish' }]);
  sound.endDrill();
  sound.warn([{ call: 'swap' }]);
  expect(player.said).toEqual([
    { words: 'swap two-finger soon', isTakenBack: true },
    { words: 'finish soon', isTakenBack: true },
  ]);
});

test('a pair that begins by holding both hears one cycle of the voice, where sound is on', () => {
  const { sound, player } = fakeSound(() => 10_000);
  const clock = new DrillClock(7000, () => 10_000);
  sound.beginDrill(clock, { ...FIRST_SOUND, isOn: false }, NOWHERE);
  sound.leadIn(2000);
  expect(player.orders).toEqual([]);
  sound.beginDrill(clock, FIRST_SOUND, NOWHERE);
  sound.leadIn(2000);
  player.started(3350);
  expect(player.orders).toEqual([
    { order: 'start', fromMs: 3300, cycleMs: 2000, sound: VOICE },
    { order: 'stop', afterMs: 5100 },
  ]);
});
