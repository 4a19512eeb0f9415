// @vitest-environment happy-dom
import { act } from 'react';
import { expect, onTestFinished, test, vi } from 'vitest';
import type { StationSettings } from '../../electron/contract.ts';
import { SETTINGS } from '../support/drills.ts';
import { FakePads } from '../support/fake-pads.ts';
import { showSetUp } from '../support/set-up-screen.tsx';

const CHEST = SETTINGS.switches.chest.kind === 'key' ? SETTINGS.switches.chest.code : '';
const AIRWAY = SETTINGS.switches.airway.kind === 'key' ? SETTINGS.switches.airway.code : '';

async function show(settings: Partial<StationSettings> = {}) {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-03-02T09:12:00Z') });
  onTestFinished(() => {
    vi.useRealTimers();
  });
  const { screen, started, remembered } = await showSetUp(settings);
  const key = (type: 'keydown' | 'keyup', code: string, repeat = false) =>
    act(async () => {
      window.dispatchEvent(new KeyboardEvent(type, { code, repeat, bubbles: true, cancelable: true }));
    });
  const begin = async () => {
    await screen.click(screen.button('Check the rig'));
    await screen.click(screen.button('Start the check Enter'));
  };
  const pressBothOnce = async () => {
    for (const code of [CHEST, AIRWAY]) {
      await key('keydown', code);
      await key('keyup', code);
    }
  };
  const start = async () => {
    await screen.click(screen.button(/^Start the drill/));
    return started.at(-1)?.setup;
  };
  const confirm = () => screen.press('Digit1');
  return { screen, remembered, key, begin, pressBothOnce, start, confirm };
}

test('passed step by step with the real switches, the day’s drills are manikin drills', async () => {
  const { screen, remembered, key, begin, pressBothOnce, start, confirm } = await show();
  await begin();
  await pressBothOnce();
  expect(screen.text).toContain('Step 1 of 6');
  expect(screen.text).toContain('Two-thumb, foot-end. Hands in place, resting');
  await confirm();
  await key('keydown', CHEST);
  expect(screen.text).toContain('Chest switch: down');
  await confirm();
  await key('keyup', CHEST);
  await confirm();
  expect(screen.text).toContain('The bag, foot-end. Hold the bag');
  await confirm();
  await key('keydown', AIRWAY);
  await confirm();
  await key('keyup', AIRWAY);
  await confirm();
  expect(screen.text).toContain(
    'Passed. Today’s drills with these switches are manikin drills if they open with a technique and stance checked here; others are rhythm drills.',
  );
  await screen.click(screen.button('Back to Set-up Enter'));
  expect(screen.text).toMatch(/Checked today at \d\d:12: two-thumb, foot-end\./);
  const rigCheck = {
    outcome: 'passed',
    at: '2026-03-02T09:12:00.000Z',
    techniques: ['two-thumb'],
    stances: ['foot-end'],
  };
  expect(remembered.map((one) => one.rigCheck)).toEqual([rigCheck]);
  expect(await start()).toMatchObject({ rig: 'manikin', rigCheck });
});

test('a switch that one third does not close is not passed, whatever is confirmed, and the drills are rhythm drills', async () => {
  const { screen, begin, pressBothOnce, start, confirm } = await show();
  await begin();
  await pressBothOnce();
  await confirm();
  await confirm();
  await confirm();
  expect(screen.text).toContain('Step 2 of 6');
  expect(screen.text).toContain('The chest switch is still up');
  await screen.press('Digit9');
  expect(screen.text).toContain('Not passed.');
  await screen.click(screen.button('Back to Set-up Enter'));
  expect(screen.text).toContain('The check was not passed today');
  expect(screen.text).toContain('Rhythm rig:');
  expect(await start()).toMatchObject({ rig: 'rhythm', rigCheck: { outcome: 'failed' } });
});

test('a switch that was not seen is not taken for one that is up', async () => {
  const { screen, begin, pressBothOnce, confirm } = await show();
  await begin();
  expect(screen.text).toContain('Chest switch: not known, press it and let it go once');
  await confirm();
  expect(screen.text).toContain('Step 1 of 6');
  expect(screen.text).toContain(
    'Whether the chest switch is up or down is not known: press it and let it go once.',
  );
  await pressBothOnce();
  expect(screen.text).not.toContain('not known');
  await confirm();
  expect(screen.text).toContain('Step 2 of 6');
});

test('a key that is closed already when the check begins is down, by its repeats, until it is let go', async () => {
  const { screen, key, begin, confirm } = await show();
  await begin();
  await key('keydown', CHEST, true);
  expect(screen.text).toContain('Chest switch: down');
  await confirm();
  expect(screen.text).toContain('The chest switch is still down');
  await key('keyup', CHEST);
  expect(screen.text).toContain('Chest switch: up');
});

test('when the window loses the focus, nobody knows any more how the keys are', async () => {
  const { screen, key, begin, pressBothOnce, confirm } = await show();
  await begin();
  await pressBothOnce();
  await confirm();
  await key('keydown', CHEST);
  await confirm();
  expect(screen.text).toContain('Step 3 of 6');
  await screen.during(() => window.dispatchEvent(new Event('blur')));
  await screen.during(() => window.dispatchEvent(new Event('focus')));
  for (const name of ['Chest', 'Airway']) expect(screen.text).toContain(`${name} switch: not known`);
  await confirm();
  expect(screen.text).toContain('Step 3 of 6');
});

test('a pad’s switch is known without a press, and not while it is unplugged', async () => {
  const pads = new FakePads();
  pads.plugIn(0, 'Board');
  pads.sample(0, 1, { buttons: { 2: 1 } });
  Object.defineProperty(window.navigator, 'getGamepads', { value: () => pads.slots, configurable: true });
  const { screen, begin } = await show({
    switches: { ...SETTINGS.switches, chest: { kind: 'pad-button', pad: 'Board', index: 0, button: 2 } },
  });
  vi.useFakeTimers({ toFake: ['setTimeout', 'performance'] });
  onTestFinished(() => {
    Reflect.deleteProperty(window.navigator, 'getGamepads');
  });
  const poll = () => act(async () => vi.advanceTimersByTime(50));
  await begin();
  await poll();
  expect(screen.text).toContain('Chest switch: down');
  pads.sample(0, 2, { buttons: { 2: 0 } });
  await poll();
  expect(screen.text).toContain('Chest switch: up');
  pads.unplug(0);
  await poll();
  expect(screen.text).toContain('Chest switch: not known');
  pads.plugIn(0, 'Board');
  await poll();
  expect(screen.text).toContain('Chest switch: up');
});

test('a check that is skipped is kept as that', async () => {
  const { screen, begin, start } = await show();
  await begin();
  await screen.click(screen.button('9 Skip the check: drills are rhythm drills today'));
  await screen.click(screen.button('Back to Set-up Enter'));
  expect(await start()).toMatchObject({ rig: 'rhythm', rigCheck: { outcome: 'skipped' } });
});

test('it is made with the techniques and stances that the day’s drills use', async () => {
  const { screen } = await show();
  await screen.click(screen.button('Check the rig'));
  await screen.click(screen.field('Two-finger'));
  await screen.click(screen.field('Side'));
  await screen.click(screen.field('Foot-end'));
  // One stance has to stay.
  await screen.click(screen.field('Side'));
  await screen.click(screen.button('Start the check Enter'));
  expect(screen.text).toContain('Step 1 of 9');
  expect(screen.text).toContain('Two-thumb, side.');
});

test('yesterday’s check counts no more; today’s does, also after a restart', async () => {
  const rigCheck = (at: string): StationSettings['rigCheck'] => ({
    outcome: 'passed',
    at,
    techniques: ['two-thumb'],
    stances: ['foot-end'],
  });
  const yesterday = await show({ rigCheck: rigCheck('2026-03-01T09:12:00Z') });
  expect(yesterday.screen.text).toContain('Not checked today');
  const today = await show({ rigCheck: rigCheck('2026-03-02T09:05:00Z') });
  expect(today.screen.text).toContain('Checked today at');
});

test('an Enter that is still held from the check does not start a drill', async () => {
  const { screen, begin } = await show();
  await begin();
  await screen.press('Digit9');
  await screen.click(screen.button('Back to Set-up Enter'));
  const event = new KeyboardEvent('keydown', {
    code: 'Enter',
    repeat: true,
    bubbles: true,
    cancelable: true,
  });
  screen.field('Two-thumb').dispatchEvent(event);
  expect(event.defaultPrevented).toBe(true);
});

test('the guide is a page of its own, and what was chosen is there again after it', async () => {
  const { screen } = await show();
  await screen.click(screen.field('Side'));
  await screen.click(screen.button('How to build the rig'));
  expect(screen.text).toContain('Write TRAINING ONLY on every bag');
  const drawings = [...screen.element.querySelectorAll('svg')].map(
    (one) => one.getAttribute('aria-label') ?? '',
  );
  expect(drawings.length).toBe(6);
  expect(drawings.filter((label) => label.length < 10)).toEqual([]);
  await screen.click(screen.button('Back to Set-up'));
  expect(screen.field('Side').checked).toBe(true);
});
