// @vitest-environment happy-dom
import { expect, test } from 'vitest';
import { keyName } from '../../machines/words/screens.ts';
import type { OpenRequest, StationStart } from '../../renderer/app/app-machine.ts';
import { SetUp } from '../../renderer/screens/set-up.tsx';
import { SwitchDesk } from '../../renderer/switches/switch-desk.ts';
import { SETTINGS } from '../support/drills.ts';
import { Screen } from '../support/screen.tsx';

const NEW_STATION: StationStart = { facts: null, settings: null, entries: [], problem: null };

async function show(start: Partial<StationStart> = {}): Promise<{ screen: Screen; started: OpenRequest[] }> {
  const started: OpenRequest[] = [];
  const screen = await Screen.show(
    <SetUp
      start={{ ...NEW_STATION, ...start }}
      isOpening={false}
      switches={new SwitchDesk(window)}
      nameOfKey={(code) => keyName(code)}
      onStart={(request) => started.push(request)}
      onRemember={() => undefined}
      onDebrief={() => undefined}
    />,
  );
  return { screen, started };
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
      guidance: 'unled',
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
