// @vitest-environment happy-dom
import { expect, onTestFinished, test } from 'vitest';
import type { DrillSetup } from '../../electron/contract.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { DrillSession } from '../../renderer/app/drill-session.ts';
import { Floor } from '../../renderer/screens/floor.tsx';
import type { SwitchEdge, SwitchListener } from '../../renderer/switches/switch-source.ts';
import { setupOf, WINDOW_ID } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

async function show(changes: Partial<DrillSetup> = {}) {
  const bridge = new FakeBridge();
  const opened = await bridge.openDrill(setupOf({ people: { A: 'Ada', B: 'Ben' }, ...changes }));
  if (!opened.ok) throw new Error(opened.message);
  let pageMs = 0;
  let listener: SwitchListener | null = null;
  const session = new DrillSession({
    opened: opened.value,
    bridge,
    clock: new DrillClock(0, () => pageMs),
    switches: {
      listen: (hear) => {
        listener = hear;
        return () => undefined;
      },
    },
    windowId: WINDOW_ID,
    wait: () => new Promise(() => undefined),
    makeCount: () => ({ follow: () => undefined, look: () => undefined }),
  });
  session.start();
  onTestFinished(() => session.stop());
  const ended: string[] = [];
  const { sound, player } = fakeSound(() => pageMs);
  sound.isWanted = true;
  const screen = await Screen.show(
    <Floor
      session={session}
      sound={sound}
      nameOfKey={(code) => code}
      onClosed={() => ended.push('debrief')}
      onLeft={(problem) => ended.push(problem ?? 'set-up')}
    />,
  );
  const at = (ms: number) => {
    pageMs = ms;
  };
  const press = async (code: string) => {
    await screen.press(code);
    await screen.settle();
  };
  const edge = (one: SwitchEdge) => screen.during(() => listener?.onEdge(one));
  const ratesOf = () =>
    bridge.lines.flatMap((line) =>
      'call' in line && line.call === 'heart-rate' ? [[line.bpm, line.given]] : [],
    );
  return { bridge, session, screen, player, ratesOf, ended, at, press, edge, hear: () => listener };
}

/** What was called, in order. */
function callsOf(bridge: FakeBridge): string[] {
  return bridge.lines.flatMap((line) => (line.kind === 'call' ? [line.call] : []));
}

test('every call has a key, on the digit row and on the number pad, and each of them is a button too', async () => {
  const { bridge, screen, press } = await show();
  await press('Digit1');
  await press('Numpad7');
  await screen.click(screen.button('7 Resume'));
  await screen.settle();
  expect(callsOf(bridge)).toEqual(['begin', 'rest', 'resume']);
});

test.each([['unled' as const], ['led' as const]])(
  'nothing is written for a call that is not allowed now (%s)',
  async (guidance) => {
    const { bridge, screen, press } = await show({ guidance });
    for (const code of ['Digit3', 'Digit7', 'Digit8']) await press(code);
    await screen.click(screen.button('7 Rest'));
    expect(callsOf(bridge)).toEqual([]);
    expect(screen.button('7 Rest').getAttribute('aria-disabled')).toBe('true');
    await press('Digit1');
    await press('Digit1');
    expect(callsOf(bridge)).toEqual(['begin']);
  },
);

test('before a drill begins, the key of the check begins it with ventilation', async () => {
  const { bridge, screen, press } = await show();
  await screen.click(screen.button('6 Begin with ventilation'));
  await screen.settle();
  expect(bridge.lines.filter(({ kind }) => kind === 'call')).toMatchObject([
    { call: 'begin', stage: 'ventilation' },
  ]);
  expect(screen.text).toContain('Ventilating');
  await press('Digit0');
  expect(screen.element.querySelector('.called')?.textContent).toBe('Ventilate');
  await press('Digit6');
  await press('Numpad6');
  expect(callsOf(bridge)).toEqual(['begin', 'check', 'checked']);
});

test('what no switch can know is ticked by keys that no learner has, at most five at a time', async () => {
  const { bridge, screen, press, edge } = await show();
  const ticks = () =>
    bridge.lines.flatMap((line) => (line.kind === 'tick' ? [[line.item, line.met, line.by]] : []));
  await press('F1');
  expect(ticks()).toEqual([]);
  await press('Digit1');
  await edge({ switch: 'chest', down: true, timeStampMs: 1000 });
  await edge({ switch: 'chest', down: false, timeStampMs: 1200 });
  for (let time = 0; time < 3; time += 1) await press('F1');
  await screen.click(screen.button('F4 Thumb position: not ticked'));
  await screen.settle();
  await press('F7');
  await press('F6');
  await press('F1');
  expect(ticks()).toEqual([
    ['chest-rise', true, 'instructor'],
    ['chest-rise', false, 'instructor'],
    ['chest-rise', null, 'instructor'],
    ['position', true, 'instructor'],
    ['mask-seal', true, 'observer'],
  ]);
  expect(screen.button('F1 Mask seals: met').disabled).toBe(false);
  await press('F6');
  expect(screen.text).toContain('Chest rises: not seen');
  expect(screen.text).toContain('Ticked by: observer');
});

test('a heart rate is typed and given by one key more, and the learners see it only when it is shown', async () => {
  const { bridge, screen, ratesOf, press } = await show();
  await press('Backquote');
  expect(screen.text).not.toContain('Heart rate to give');
  for (const code of ['Digit1', 'Digit6', 'NumpadMultiply', 'Numpad6', 'Numpad4', 'NumpadDivide', 'Digit2'])
    await press(code);
  expect(screen.element.querySelector('output')?.textContent).toBe('62, by voice: you say it');
  expect(ratesOf()).toEqual([]);
  await press('Enter');
  expect(ratesOf()).toEqual([[62, 'voice']]);
  await press('Digit0');
  expect(screen.element.querySelector('.called')?.textContent).toBe('Check');
  await press('Backquote');
  expect(screen.text).toContain('A heart rate is being entered');
  expect(screen.text).not.toContain('62');
  for (const code of ['Minus', 'Backquote', 'NumpadEnter']) await press(code);
  expect(ratesOf()).toEqual([
    [62, 'voice'],
    [52, 'sight'],
  ]);
  expect([...screen.element.querySelectorAll('.called')].map((one) => one.textContent)).toEqual([
    'Heart rate',
    '52',
  ]);
  expect(callsOf(bridge)).toEqual(['begin', 'check', 'heart-rate', 'heart-rate']);
});

test('a heart rate’s entry takes Enter also where a button has the focus, and Escape leaves it', async () => {
  const { screen, ratesOf, press } = await show();
  await press('Digit1');
  await screen.click(screen.button('Backquote Give the heart rate'));
  expect(screen.text).toContain('only if the pair has asked');
  const more = screen.button('Equal 10 more');
  more.focus();
  await screen.press('Enter', more);
  await screen.settle();
  expect(ratesOf()).toEqual([[50, 'voice']]);
  await press('Backquote');
  await press('Escape');
  expect(screen.text).not.toContain('Heart rate to give');
  expect(ratesOf()).toEqual([[50, 'voice']]);
});

test('a heart rate is tapped in a check, and the taps are taken back with the first compression', async () => {
  const { screen, player, ratesOf, press, edge, at } = await show();
  const compress = async (ms: number) => {
    at(ms);
    await edge({ switch: 'chest', down: true, timeStampMs: ms });
    await edge({ switch: 'chest', down: false, timeStampMs: ms + 100 });
  };
  await press('Digit1');
  // Key events have the test's own clock: the switches come long after it.
  await compress(20_000);
  await press('Backquote');
  expect(screen.text).not.toContain('How:');
  await press('Escape');
  await press('Digit6');
  at(22_100);
  for (const code of ['Backquote', 'Digit4', 'Digit0', 'Backquote', 'Backquote', 'Enter']) await press(code);
  expect([ratesOf(), player.taps]).toEqual([[[40, 'taps']], [{ bpm: 40, taps: 4, isTakenBack: false }]]);
  await compress(24_000);
  expect(player.taps).toEqual([{ bpm: 40, taps: 4, isTakenBack: true }]);
});

test('the airway has a key on either side of the digits', async () => {
  const { bridge, screen, press } = await show();
  expect(screen.button('⌫ Airway: secured').getAttribute('aria-disabled')).toBe('false');
  await press('Backspace');
  await press('NumpadDivide');
  expect(
    bridge.lines.flatMap((line) => ('call' in line && line.call === 'airway' ? [line.airway] : [])),
  ).toEqual(['secured', 'mask']);
});

test('with a switch for each person, who compresses on after a swap is told once that they have the breaths', async () => {
  const { bridge, screen, press, edge, at } = await show({ rig: 'rhythm', binding: 'person' });
  const tap = async (name: 'A' | 'B', ms: number) => {
    at(ms);
    await edge({ switch: name, down: true, timeStampMs: ms });
    await edge({ switch: name, down: false, timeStampMs: ms + 100 });
  };
  const hint = () => screen.element.querySelector('.hint')?.textContent;
  await press('Digit0');
  await press('Digit1');
  // Key events have the test's own clock: the switches come long after it.
  for (const ms of [60_000, 60_500, 61_000]) await tap('A', ms);
  await press('Digit2');
  for (const ms of [63_000, 63_500, 64_000]) await tap('B', ms);
  await tap('A', 64_100);
  expect(hint()).toBe('');
  await tap('A', 64_600);
  await tap('B', 65_600);
  expect(hint()).toBe('Ada: you have the breaths now');
  expect(screen.element.querySelector('[role="status"]')?.textContent).toBe('Ada: you have the breaths now');
  expect(bridge.lines.filter(({ kind }) => kind === 'edge')).toHaveLength(18);
  await press('Digit0');
  expect(screen.text).toContain('2 stray presses');
});

test('there is nothing to tick on a rhythm rig', async () => {
  const { bridge, screen, press } = await show({ rig: 'rhythm' });
  await press('Digit1');
  await press('F1');
  expect(bridge.lines.filter(({ kind }) => kind === 'tick')).toEqual([]);
  expect(screen.text).not.toContain('Chest rises');
});

test('one key changes between the views, and the same keys work in both', async () => {
  const { bridge, screen, press } = await show();
  expect(screen.text).toContain('Not begun');
  await press('Digit0');
  expect(screen.text).toContain('Ada compresses');
  expect(screen.text).not.toContain('Not begun');
  await press('Digit1');
  expect(callsOf(bridge)).toEqual(['begin']);
  expect(screen.element.querySelector('.called')?.textContent).toBe('Begin');
  await press('Numpad0');
  expect(screen.text).toContain('Waiting for the first compression');
});

test('what the learners see unled is what was called, until it is carried out', async () => {
  const { screen, press, edge, at } = await show();
  const shown = () =>
    [...screen.element.querySelectorAll('.learners-centre p')].map((one) => one.textContent);
  await press('Digit0');
  await press('Digit1');
  const chest = async (ms: number) => {
    at(ms);
    await edge({ switch: 'chest', down: true, timeStampMs: ms });
    await edge({ switch: 'chest', down: false, timeStampMs: ms + 200 });
  };
  for (const ms of [1000, 1500, 2000]) await chest(ms);
  expect(shown()).toEqual([]);
  await press('Digit4');
  expect(shown()).toEqual(['Two-finger']);
  // Long after the keys, which have the test's own clock.
  await chest(60_000);
  expect(shown()).toEqual([]);
});

test('led, the count is there from the second after begin, by the clock alone', async () => {
  const { screen, press, at, session } = await show({ guidance: 'led' });
  await press('Digit0');
  await press('Digit1');
  expect(screen.element.querySelector('.count-ready')?.textContent).toBe('ready');
  const fromMs = session.driver.snapshot.context.order?.fromMs ?? 0;
  at(fromMs + 1600);
  await press('Digit0');
  await press('Digit0');
  expect(screen.element.querySelector('.count')?.textContent).toBe('breathe');
});

test('the count and the tempo have a key each, beside the digits', async () => {
  const { bridge, screen, press } = await show({ guidance: 'led' });
  await press('Digit1');
  await press('Minus');
  await press('NumpadAdd');
  await press('Equal');
  expect(bridge.lines.flatMap((line) => (line.kind === 'call' ? [line] : []))).toMatchObject([
    { call: 'begin' },
    { call: 'guidance', guidance: 'weaned' },
    { call: 'tempo', cycleMs: 3000 },
    { call: 'tempo', cycleMs: 2000 },
  ]);
  await press('Digit9');
  expect(screen.text).not.toContain('Tempo:');
});

test('a count that falls silent is shown to the end of its cycle, then no more', async () => {
  const { screen, press, at, edge, session } = await show({ guidance: 'led' });
  await press('Digit0');
  await press('Digit1');
  const fromMs = session.driver.snapshot.context.order?.fromMs ?? 0;
  const shownAt = async (ms: number) => {
    at(fromMs + ms);
    await press('Digit0');
    await press('Digit0');
    return screen.element.querySelector('.count')?.textContent ?? null;
  };
  expect(await shownAt(100)).toBe('one');
  await edge({ switch: 'chest', down: true, timeStampMs: fromMs + 100 });
  for (const _ of ['weaned', 'unled']) await press('Minus');
  expect([await shownAt(1600), await shownAt(1800)]).toEqual(['breathe', null]);
});

test('a finish by mistake is undone; after a finish, Enter closes the drill', async () => {
  const { bridge, screen, press, ended } = await show();
  await press('Digit1');
  await press('Digit9');
  expect(screen.text).toContain('Close and debrief');
  await press('Digit8');
  expect(screen.text).not.toContain('Close and debrief');
  await press('Enter');
  expect(ended).toEqual([]);
  await press('Digit9');
  await press('Enter');
  expect(ended).toEqual(['debrief']);
  expect(callsOf(bridge)).toEqual(['begin', 'finish', 'undo', 'finish']);
  expect(bridge.lines.at(-1)?.kind).toBe('close');
});

test('leaving in the middle is asked once, and the journal is closed without a finish', async () => {
  const { bridge, screen, press, ended } = await show();
  await press('Digit1');
  await screen.click(screen.button('Leave this drill'));
  expect(screen.text).toContain('Leave without finishing?');
  await screen.click(screen.button('Stay'));
  await screen.click(screen.button('Leave this drill'));
  await screen.click(screen.button('Leave it'));
  await screen.settle();
  expect(ended).toEqual(['set-up']);
  expect(bridge.lines.map((line) => line.kind)).toEqual(['call', 'close']);
});

test('a third key is noted and not counted', async () => {
  const { bridge, screen, hear } = await show();
  await screen.during(() => hear()?.onThirdKey('KeyM', 40));
  expect(bridge.lines).toEqual([{ kind: 'device', at: 40, what: 'third-key', switch: 'KeyM' }]);
  expect(screen.text).toContain('A third key was pressed (KeyM)');
});

test('without the keyboard the window says so', async () => {
  const { screen, hear } = await show();
  await screen.during(() => hear()?.onFocus(false, 40));
  expect(screen.text).toContain('no press is seen');
  await screen.during(() => hear()?.onFocus(true, 90));
  expect(screen.text).not.toContain('no press is seen');
});

test('a disk that refuses is told in words, and nothing is shown as done that is not saved', async () => {
  const { bridge, screen, press } = await show();
  bridge.failure = { ok: false, code: 'disk', message: 'the disk is full' };
  await press('Digit1');
  expect(screen.text).toContain('Not saved yet: the disk is full');
  expect(screen.text).toContain('Not begun');
});

test('each keeps a key: a swap is seen by the switches, so that “taken” is not offered', async () => {
  const source = { kind: 'keyboard', stepMs: 1 };
  const { bridge, press, edge, at } = await show({
    rig: 'rhythm',
    binding: 'person',
    sources: { A: source, B: source },
  });
  await press('Digit1');
  at(1000);
  await edge({ switch: 'A', down: true, timeStampMs: 1000 });
  at(1200);
  await press('Digit2');
  await press('Digit3');
  expect(callsOf(bridge)).toEqual(['begin', 'swap']);
});
