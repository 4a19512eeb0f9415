// @vitest-environment happy-dom
import { act } from 'react';
import { expect, onTestFinished, test, vi } from 'vitest';
import type { StationSettings } from '../../electron/contract.ts';
import { keyName } from '../../machines/words/screens.ts';
import type { OpenRequest } from '../../renderer/app/app-machine.ts';
import { PlanShelf } from '../../renderer/app/plan-shelf.ts';
import { SetUp } from '../../renderer/screens/set-up.tsx';
import { SwitchDesk } from '../../renderer/switches/switch-desk.ts';
import { SETTINGS } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { FakePads } from '../support/fake-pads.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

const BOARD = 'Plain board';

async function show(settings: Partial<StationSettings> = {}) {
  const pads = new FakePads();
  Object.defineProperty(window.navigator, 'getGamepads', { value: () => pads.slots, configurable: true });
  vi.useFakeTimers({ toFake: ['setTimeout', 'Date'], now: new Date('2026-03-02T09:30:00Z') });
  onTestFinished(() => {
    vi.useRealTimers();
    Reflect.deleteProperty(window.navigator, 'getGamepads');
  });
  const started: OpenRequest[] = [];
  const screen = await Screen.show(
    <SetUp
      start={{ facts: null, settings: { ...SETTINGS, ...settings }, entries: [], problem: null }}
      isOpening={false}
      sound={fakeSound().sound}
      plans={new PlanShelf(new FakeBridge())}
      switches={new SwitchDesk(window)}
      nameOfKey={(code) => keyName(code)}
      onStart={(request) => started.push(request)}
      onRemember={() => undefined}
      onDebrief={() => undefined}
    />,
  );
  const poll = () => act(async () => vi.advanceTimersByTime(10));
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
  return { screen, pads, poll, button, start };
}

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
