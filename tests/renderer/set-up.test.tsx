// @vitest-environment happy-dom
import { expect, test } from 'vitest';
import { WEANING } from '../../machines/count/weaning.ts';
import { keyName } from '../../machines/words/screens.ts';
import type { OpenRequest, StationStart } from '../../renderer/app/app-machine.ts';
import { ClassShelf } from '../../renderer/app/class-shelf.ts';
import { PlanShelf } from '../../renderer/app/plan-shelf.ts';
import type { StationSound } from '../../renderer/app/station-sound.ts';
import { SetUp } from '../../renderer/screens/set-up.tsx';
import { SwitchDesk } from '../../renderer/switches/switch-desk.ts';
import { SETTINGS } from '../support/drills.ts';
import { FakeBridge } from '../support/fake-bridge.ts';
import { type FakePlayer, fakeSound } from '../support/fake-sound.ts';
import { Screen } from '../support/screen.tsx';

const NEW_STATION: StationStart = { facts: null, settings: null, entries: [], problem: null };

async function show(
  start: Partial<StationStart> = {},
): Promise<{ screen: Screen; started: OpenRequest[]; sound: StationSound; player: FakePlayer }> {
  const started: OpenRequest[] = [];
  const { sound, player } = fakeSound();
  const screen = await Screen.show(
    <SetUp
      start={{ ...NEW_STATION, ...start }}
      isOpening={false}
      switches={new SwitchDesk(window)}
      sound={sound}
      plans={new PlanShelf(new FakeBridge())}
      classes={new ClassShelf(new FakeBridge())}
      nameOfKey={(code) => keyName(code)}
      onStart={(request) => started.push(request)}
      onRemember={() => undefined}
      onDebrief={() => undefined}
    />,
  );
  return { screen, started, sound, player };
}

test('two names are enough on a new station', async () => {
  const { screen, started } = await show();
  await screen.type('First person', ' Ada ');
  await screen.type('Second person', 'Ben');
  await screen.click(screen.button(/^Start the drill/));
  expect(started.map(({ setup }) => setup)).toEqual([
    {
      pattern: 'newborn-3-1',
      guideline: 'us-style',
      rig: 'rhythm',
      airway: 'mask',
      binding: 'place',
      tolerance: 'standard',
      cycleMs: 2000,
      bounceMs: 25,
      sources: { chest: { kind: 'keyboard', stepMs: 1 }, airway: { kind: 'keyboard', stepMs: 1 } },
      people: { A: 'Ada', B: 'Ben' },
      roles: { compressor: 'A', ventilator: 'B' },
      technique: 'two-thumb',
      stance: 'foot-end',
      guidance: 'weaned',
      weaning: WEANING,
    },
  ]);
});

test('a missing name is asked for, and two that are the same are told apart first', async () => {
  const { screen, started } = await show();
  await screen.type('First person', 'Ada');
  await screen.click(screen.button(/^Start the drill/));
  expect(screen.text).toContain('Write both names');
  await screen.type('Second person', 'Ada');
  await screen.click(screen.button(/^Start the drill/));
  expect(screen.text).toContain('Both have the same name');
  expect(started).toEqual([]);
});

test('the last used is there again', async () => {
  const { screen, started } = await show({ settings: { ...SETTINGS, stance: 'side' } });
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.settings).toEqual({ ...SETTINGS, stance: 'side' });
});

test('what was not read in its source says so beside the value', async () => {
  const { screen } = await show();
  const row = [...screen.element.querySelectorAll('tr')].find((one) =>
    one.textContent?.includes('Check the heart rate'),
  );
  expect(row?.textContent).toContain('60 s from memory, not verified');
  const depth = [...screen.element.querySelectorAll('tr')].find((one) => one.textContent?.includes('Depth'));
  expect(depth?.textContent).toContain('one third second-hand');
});

test('a manikin rig that was not checked today is a rhythm rig, and Set-up says why', async () => {
  const { screen, started } = await show({ settings: { ...SETTINGS, rig: 'rhythm', binding: 'person' } });
  expect(screen.text).toContain('Rhythm rig:');
  await screen.click(screen.field('Manikin: switches in the manikin and the bag'));
  expect(screen.text).toContain('Not checked today: until it is, drills are recorded as rhythm drills.');
  expect(screen.text).not.toContain('A switch belongs to');
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.setup).toMatchObject({
    rig: 'rhythm',
    binding: 'place',
    rigCheck: { outcome: 'not-done' },
  });
});

test('what this is for, and what it is not, is always on the page', async () => {
  const { screen } = await show();
  expect(screen.text).toContain('For the newly born only.');
  expect(screen.text).toContain('For training on manikins only.');
});

test('a disk that will not take a drill is told in a sentence', async () => {
  const { screen } = await show({ problem: 'the disk is full' });
  expect(screen.text).toContain('That did not work: the disk is full.');
});

test('first contact is slow, led and looked at with the wider tolerance', async () => {
  const { screen, started } = await show({ settings: SETTINGS });
  await screen.click(screen.field('Slow, for first contact: three seconds a cycle'));
  expect(screen.text).toContain('stands in no headline');
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.setup).toMatchObject({ cycleMs: 3000, guidance: 'led', tolerance: 'first' });
});

test('with several stations in the room no count is given unless it is asked for', async () => {
  const { screen, started } = await show({ settings: { ...SETTINGS, guidance: 'weaned' } });
  await screen.click(screen.field('Several'));
  await screen.click(screen.button(/^Start the drill/));
  await screen.click(screen.field('Led'));
  await screen.click(screen.button(/^Start the drill/));
  expect(started.map(({ setup }) => setup.guidance)).toEqual(['unled', 'led']);
});

test('the rule of a weaned count goes into every drill: the guidance can be called later', async () => {
  const weaning = { ...WEANING, leastMs: 20_000 };
  const { screen, started } = await show({ settings: { ...SETTINGS, guidance: 'weaned', weaning } });
  await screen.click(screen.button(/^Start the drill/));
  await screen.click(screen.field('Unled'));
  await screen.click(screen.button(/^Start the drill/));
  expect(started.map(({ setup }) => setup.weaning)).toEqual([weaning, weaning]);
});

test('the tick and the sound are remembered; a silent station asks for neither', async () => {
  const { screen, started } = await show({ settings: SETTINGS });
  await screen.click(screen.field('high'));
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.settings.sound).toMatchObject({ isOn: true, pitch: 4 });
  await screen.click(screen.field('Only shown'));
  expect(screen.text).not.toContain('Volume');
  await screen.click(screen.button(/^Start the drill/));
  expect(started[1]?.settings.sound.isOn).toBe(false);
});

test('what is wrong with the sound is said until it is over, and only where sound is wanted', async () => {
  const { screen, player } = await show({ settings: SETTINGS });
  await screen.during(() => player.say({ type: 'trouble', code: 'device-lost' }));
  expect(screen.text).toContain('The sound has stopped');
  await screen.click(screen.field('Only shown'));
  expect(screen.text).not.toContain('The sound has stopped');
  await screen.click(screen.field('Heard and shown'));
  await screen.during(() => player.say({ type: 'trouble over', code: 'device-lost' }));
  expect(screen.text).not.toContain('The sound has stopped');
});

test('“speak it without hands” is started and stopped by its button', async () => {
  const { screen, player } = await show({ settings: SETTINGS });
  await screen.click(screen.button('Speak it without hands'));
  expect(player.orders.at(-1)?.order).toBe('start');
  await screen.click(screen.button('Stop: Speak it without hands'));
  expect(player.orders.at(-1)?.order).toBe('stop');
});
