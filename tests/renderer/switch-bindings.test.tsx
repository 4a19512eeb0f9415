// @vitest-environment happy-dom
import { act } from 'react';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import type { StationSettings } from '../../electron/contract.ts';
import { SETTINGS } from '../support/drills.ts';
import { FakePads } from '../support/fake-pads.ts';
import { showSetUp } from '../support/set-up-screen.tsx';

const BOARD = 'Plain board';

async function show(settings: Partial<StationSettings> = {}) {
  const pads = new FakePads();
  Object.defineProperty(window.navigator, 'getGamepads', { value: () => pads.slots, configurable: true });
  vi.useFakeTimers({ toFake: ['setTimeout', 'Date', 'performance'], now: new Date('2026-03-02T09:30:00Z') });
  onTestFinished(() => {
    vi.useRealTimers();
    Reflect.deleteProperty(window.navigator, 'getGamepads');
  });
  const { screen, started } = await showSetUp(settings);
  const poll = (forMs = 10) => act(async () => vi.advanceTimersByTime(forMs));
  const button = async (index: number, which: number, value: number) => {
    pads.sample(index, 1, { buttons: { [which]: value } });
    await poll();
  };
  const start = async () => {
    await screen.click(screen.button(/^Start the drill/));
    const request = started.at(-1);
    if (request === undefined) throw new Error('no drill was started');
    return request;
  };
  /** The one axis of a pad goes to a value and stays there. */
  const axis = async (index: number, value: number, forMs: number) => {
    pads.sample(index, 1, { axes: [value] });
    await poll(forMs);
  };
  return { screen, pads, poll, button, axis, start };
}

test('bind both, given up after the first, leaves both as they were', async () => {
  const { screen, start } = await show();
  await screen.click(screen.button('Bind both by pressing them'));
  // The first may be the key that the second has now.
  await screen.press('KeyJ');
  await screen.press('Escape');
  expect((await start()).settings.switches).toEqual(SETTINGS.switches);
  await screen.click(screen.button('Bind both by pressing them'));
  await screen.press('KeyJ');
  await screen.press('KeyJ');
  expect(screen.text).toContain('That is the other switch already.');
  await screen.press('KeyF');
  expect((await start()).settings.switches).toEqual({
    chest: { kind: 'key', code: 'KeyJ' },
    airway: { kind: 'key', code: 'KeyF' },
  });
});

test('a check of yesterday is none, also where Set-up was left open over midnight', async () => {
  const rigCheck = {
    outcome: 'passed' as const,
    at: '2026-03-02T09:00:00.000Z',
    techniques: ['two-thumb' as const],
    stances: ['foot-end' as const],
  };
  const { start } = await show({ rig: 'manikin', rigCheck });
  expect((await start()).setup.rig).toBe('manikin');
  vi.setSystemTime(new Date('2026-03-03T09:30:00Z'));
  expect((await start()).setup.rig).toBe('rhythm');
});

test('a switch is bound by pressing a key', async () => {
  const { screen, start } = await show();
  await screen.click(screen.button('Change Chest switch'));
  expect(screen.text).toContain('Press the chest switch now');
  await screen.press('KeyQ');
  expect((await start()).settings.switches.chest).toEqual({ kind: 'key', code: 'KeyQ' });
});

test.each([
  ['KeyJ', 'That is the other switch already. If it was another pedal, both send the same key'],
  ['Digit4', 'the instructor’s keys'],
  ['Numpad7', 'the instructor’s keys'],
  ['ShiftLeft', 'needs that key for itself'],
  ['', 'does not say which key'],
])('the key %s is refused with the reason', async (code, reason) => {
  const { screen } = await show();
  await screen.click(screen.button('Change Chest switch'));
  await screen.press(code);
  expect(screen.text).toContain(reason);
  await screen.press('Escape');
  expect(screen.button('Change Chest switch')).toBeDefined();
});

test('both are bound one after the other, a key and a pad’s button; the day is remembered, the check is not', async () => {
  const rigCheck = {
    outcome: 'passed',
    at: '2026-03-02T08:00:00Z',
    techniques: ['two-thumb'],
    stances: ['foot-end'],
  } as const;
  const { screen, pads, button, start } = await show({
    rigCheck: { ...rigCheck, techniques: ['two-thumb'], stances: ['foot-end'] },
  });
  pads.plugIn(0, BOARD);
  expect(screen.text).toContain('Not pressed today');
  await screen.click(screen.button('Bind both by pressing them'));
  await screen.press('KeyJ');
  expect(screen.text).toContain('Press the airway switch now');
  await button(0, 3, 1);
  await button(0, 3, 0);
  expect(screen.text).toContain('Both were pressed today');
  const { settings, setup } = await start();
  expect(settings.switches).toEqual({
    chest: { kind: 'key', code: 'KeyJ' },
    airway: { kind: 'pad-button', pad: BOARD, index: 0, button: 3 },
  });
  expect([settings.boundAt, settings.rigCheck]).toEqual(['2026-03-02T09:30:00.001Z', null]);
  expect(setup.sources.chest).toEqual({ kind: 'keyboard', stepMs: 1 });
  expect(setup.sources.airway?.kind).toBe('gamepad-stamped');
});

test('one button cannot be both switches, and one that is held is not taken for a press', async () => {
  const { screen, pads, button } = await show();
  pads.plugIn(0, BOARD);
  await screen.click(screen.button('Bind both by pressing them'));
  await button(0, 1, 1);
  expect(screen.text).toContain('Press the airway switch now');
  await button(0, 1, 1);
  expect(screen.text).not.toContain('That is the other switch already');
  await button(0, 1, 0);
  await button(0, 1, 1);
  expect(screen.text).toContain('That is the other switch already');
});

test('an axis that rests at its end is bound with the way it is pressed', async () => {
  const { screen, pads, poll, start } = await show();
  pads.plugIn(1, BOARD, 2, [0, -1]);
  await screen.click(screen.button('Change Airway switch'));
  pads.sample(1, 1, { axes: [0.1, 0.4] });
  await poll();
  expect((await start()).settings.switches.airway).toEqual({
    kind: 'pad-axis',
    pad: BOARD,
    index: 1,
    axis: 1,
    rest: -1,
    towards: 1,
  });
});

describe('an axis of a pad that shows itself during the waiting', () => {
  const TRIGGER = { kind: 'pad-axis', pad: BOARD, index: 1, axis: 0, rest: -1, towards: 1 };

  test('by being pressed is not bound when it is let go, but when it is pressed once more', async () => {
    const { screen, pads, axis, start } = await show();
    await screen.click(screen.button('Change Airway switch'));
    pads.plugIn(1, BOARD, 2, [1]);
    await axis(1, 1, 400);
    await axis(1, 0, 20);
    await axis(1, -1, 1500);
    expect(screen.text).toContain('press it once more');
    expect(screen.text).toContain('Press the airway switch now');
    await axis(1, 0.2, 20);
    expect(screen.text).not.toContain('once more');
    expect((await start()).settings.switches.airway).toEqual(TRIGGER);
  });

  test('at rest is bound by its second press, not by letting go of the first', async () => {
    const { screen, pads, axis, start } = await show();
    await screen.click(screen.button('Change Airway switch'));
    pads.plugIn(1, BOARD, 2, [-1]);
    for (const [value, forMs] of [
      [-1, 3000],
      [1, 400],
      [-1, 1500],
    ] as const)
      await axis(1, value, forMs);
    expect(screen.text).toContain('press it once more');
    await axis(1, 1, 400);
    expect((await start()).settings.switches.airway).toEqual(TRIGGER);
  });

  test('is not bound by quick presses: where it rests is not known from them', async () => {
    const { screen, pads, axis } = await show();
    await screen.click(screen.button('Change Airway switch'));
    pads.plugIn(1, BOARD, 2, [1]);
    for (const value of [1, -1, 1, -1, 1, -1]) await axis(1, value, 300);
    expect(screen.text).toContain('Press the airway switch now');
  });

  test('that rests in the middle is bound the way it is pressed', async () => {
    const { screen, pads, axis, start } = await show();
    await screen.click(screen.button('Change Airway switch'));
    pads.plugIn(1, BOARD, 2, [-0.8]);
    await axis(1, -1, 400);
    await axis(1, 0.05, 1500);
    await axis(1, -0.9, 400);
    expect((await start()).settings.switches.airway).toEqual({ ...TRIGGER, rest: 0, towards: -1 });
  });
});

test('letting go of an axis that was just bound does not bind the other switch to it', async () => {
  const { screen, pads, axis, poll } = await show();
  pads.plugIn(1, BOARD, 2, [-1]);
  await screen.click(screen.button('Bind both by pressing them'));
  await poll();
  await axis(1, 1, 300);
  expect(screen.text).toContain('Press the airway switch now');
  await axis(1, -1, 300);
  expect(screen.text).toContain('Press the airway switch now');
  await axis(1, 1, 300);
  expect(screen.text).toContain('That is the other switch already');
});

test('a pad that is not there is said to be missing though its twin, the other switch, is', async () => {
  const { screen, pads } = await show({
    switches: {
      chest: { kind: 'pad-button', pad: BOARD, index: 0, button: 2 },
      airway: { kind: 'pad-button', pad: BOARD, index: 1, button: 3 },
    },
  });
  pads.plugIn(1, BOARD);
  await screen.during(() => window.dispatchEvent(new Event('gamepadconnected')));
  expect(screen.text.split('not plugged in').length - 1).toBe(1);
  pads.plugIn(0, BOARD);
  await screen.during(() => window.dispatchEvent(new Event('gamepadconnected')));
  expect(screen.text).not.toContain('not plugged in');
});

test('a remembered pad that is not there is said to be missing until it is plugged in', async () => {
  const { screen, pads } = await show({
    switches: {
      chest: { kind: 'pad-button', pad: BOARD, index: 0, button: 2 },
      airway: { kind: 'key', code: 'KeyJ' },
    },
  });
  expect(screen.text).toContain('pad button 2');
  expect(screen.text).toContain('not plugged in');
  pads.plugIn(0, BOARD);
  await screen.during(() => window.dispatchEvent(new Event('gamepadconnected')));
  expect(screen.text).not.toContain('not plugged in');
});
