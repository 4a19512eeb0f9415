// @vitest-environment happy-dom
import { expect, onTestFinished, test } from 'vitest';
import type { InstructorKeys } from '../../machines/instructor-keys.ts';
import { keyName } from '../../machines/words/screens.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { DrillSession } from '../../renderer/app/drill-session.ts';
import { startingSettings } from '../../renderer/app/set-up-form.ts';
import { Floor } from '../../renderer/screens/floor.tsx';
import { SETTINGS, setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';
import { showSetUp } from '../support/set-up-screen.tsx';

async function showFloor(instructorKeys: InstructorKeys) {
  const bridge = new FakeBridge();
  const opened = await bridge.openDrill(setupOf({ people: { A: 'Ada', B: 'Ben' } }));
  if (!opened.ok) throw new Error(opened.message);
  const session = new DrillSession({
    opened: opened.value,
    bridge,
    clock: new DrillClock(0, () => 0),
    switches: { listen: () => () => undefined },
    windowId: WINDOW_ID,
    wait: () => new Promise(() => undefined),
    makeCount: () => ({ follow: () => undefined, look: () => undefined }),
    instructorKeys,
  });
  session.start();
  onTestFinished(() => session.stop());
  const screen = await Screen.show(
    <Floor
      session={session}
      sound={fakeSound().sound}
      nameOfKey={(code) => keyName(code)}
      onClosed={() => undefined}
      onLeft={() => undefined}
    />,
  );
  const press = async (...codes: string[]) => {
    for (const code of codes) {
      await screen.press(code);
      await screen.settle();
    }
  };
  const calls = () =>
    bridge.lines.flatMap((line) =>
      'call' in line ? [line.call === 'heart-rate' ? `${line.call} ${line.bpm}` : line.call] : [],
    );
  return { screen, press, calls };
}

test('a call is made by the key chosen for it and by the number pad, and its button says so', async () => {
  const { screen, press, calls } = await showFloor({ '1': 'KeyQ', '7': 'Digit1', '0': 'KeyV' });
  expect(screen.button('Q Begin').getAttribute('aria-disabled')).toBe('false');
  expect(screen.button('1 Rest')).toBeDefined();
  await press('Digit7');
  expect(calls()).toEqual([]);
  await press('KeyQ', 'Digit1', 'Numpad7');
  expect(calls()).toEqual(['begin', 'rest', 'resume']);
  await press('KeyV');
  expect(screen.element.querySelector('.learners footer')?.textContent).toContain('Instructor’s view V');
});

test('while a heart rate is entered the digits are digits, wherever the calls are', async () => {
  const { screen, press, calls } = await showFloor({ '*': 'KeyH', '5': 'Digit8', '8': 'KeyU' });
  await press('Digit1', 'KeyH', 'Digit8', 'Digit5', 'KeyU');
  expect(screen.element.querySelector('output')?.textContent).toContain('85');
  expect(screen.button('⌫ Erase a digit')).toBeDefined();
  await press('Enter');
  expect(calls()).toEqual(['begin', 'heart-rate 85']);
});

test('a call gets another key by pressing it, and is back in its place when its first key is pressed', async () => {
  const { screen, started } = await showSetUp({});
  const keysNow = async () => {
    await screen.click(screen.button(/^Start the drill/));
    return started.at(-1)?.settings.instructorKeys;
  };
  await screen.click(screen.button('Change Swap'));
  expect(screen.button('Press its key now, or Escape Swap').getAttribute('aria-pressed')).toBe('true');
  await screen.press('KeyQ');
  await screen.click(screen.button('Change Undo'));
  await screen.press('Digit2');
  expect(await keysNow()).toEqual({ '2': 'KeyQ', '8': 'Digit2' });
  expect([...screen.element.querySelectorAll('.instructor-keys kbd')].map((one) => one.textContent)).toEqual([
    '1',
    'Q',
    '3',
    '4',
    '5',
    '6',
    '7',
    '2',
    '9',
    '0',
    '-',
    '=',
    '`',
    '⌫',
  ]);
  await screen.click(screen.button('Change Undo'));
  await screen.press('Digit8');
  expect(await keysNow()).toEqual({ '2': 'KeyQ' });
  await screen.click(screen.button('All as at first'));
  expect(await keysNow()).toEqual({});
});

test.each([
  ['KeyF', 'That is a learner’s switch.'],
  ['F5', 'The window needs that key for itself.'],
  ['Enter', 'The window needs that key for itself.'],
  ['Space', 'The window needs that key for itself.'],
  ['Digit3', 'That is another call’s key.'],
  ['KeyQ', 'That is another call’s key.'],
  ['Numpad2', 'The number pad calls as it is printed'],
  ['', 'The keyboard does not say which key that is.'],
])('the key %s is refused for a call, with the reason, and the next is waited for', async (code, reason) => {
  const { screen, started } = await showSetUp({ instructorKeys: { '1': 'KeyQ' } });
  await screen.click(screen.button('Change Swap'));
  await screen.press(code);
  expect(screen.element.querySelector('.instructor-keys [role=status]')?.textContent).toContain(reason);
  await screen.press('KeyW');
  expect(screen.element.querySelector('.instructor-keys [role=status]')?.textContent).toBe('');
  await screen.click(screen.button(/^Start the drill/));
  expect(started.at(-1)?.settings.instructorKeys).toEqual({ '1': 'KeyQ', '2': 'KeyW' });
});

test.each(['Escape', 'Tab'])('%s gives up, and all is as it was', async (code) => {
  const { screen, started } = await showSetUp({});
  await screen.click(screen.button('Change Swap'));
  await screen.press(code);
  await screen.press('KeyQ');
  await screen.click(screen.button(/^Start the drill/));
  expect(started.at(-1)?.settings.instructorKeys).toEqual({});
});

test('a key chosen for a call is no learner’s switch, and neither is the one it had before', async () => {
  const { screen } = await showSetUp({ instructorKeys: { '2': 'KeyQ' } });
  for (const code of ['KeyQ', 'Digit2']) {
    await screen.click(screen.button('Change Chest switch'));
    await screen.press(code);
    expect(screen.text).toContain('are the instructor’s keys. Choose another.');
    await screen.press('Escape');
  }
});

test('the rig check has the chosen keys too', async () => {
  const { screen } = await showSetUp({ rig: 'manikin', instructorKeys: { '9': 'KeyQ' } });
  await screen.click(screen.button('Check the rig'));
  await screen.click(screen.button('Start the check Enter'));
  expect(screen.button(/^Q /)).toBeDefined();
  await screen.press('Digit9');
  expect(screen.text).toContain('Step 1 of');
  await screen.press('KeyQ');
  expect(screen.text).not.toContain('Step 1 of');
});

test('a press goes to one alone where a switch and a call’s key are both waited for', async () => {
  const { screen, started } = await showSetUp({});
  await screen.click(screen.button('Change Chest switch'));
  await screen.click(screen.button('Change Swap'));
  await screen.press('KeyQ');
  await screen.press('KeyQ');
  await screen.press('KeyW');
  await screen.click(screen.button(/^Start the drill/));
  const settings = started.at(-1)?.settings;
  expect([settings?.switches.chest, settings?.instructorKeys]).toEqual([
    { kind: 'key', code: 'KeyQ' },
    { '2': 'KeyW' },
  ]);
});

test.each([
  ['a learner’s switch', { '2': 'KeyF' }],
  ['a key twice', { '2': 'KeyQ', '3': 'KeyQ' }],
  ['a key of the window', { '2': 'Tab' }],
] as const)('remembered keys with %s are not taken', (_what, instructorKeys) => {
  expect(startingSettings({ ...SETTINGS, instructorKeys })).toEqual({ ...SETTINGS, instructorKeys: {} });
  const good = { '2': 'KeyQ', '3': 'Digit2' };
  expect(startingSettings({ ...SETTINGS, instructorKeys: good }).instructorKeys).toEqual(good);
});
