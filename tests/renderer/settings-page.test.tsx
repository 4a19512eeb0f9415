// @vitest-environment happy-dom
import { useState } from 'react';
import { expect, test } from 'vitest';
import { FIRST_SETTINGS, type StationSettings } from '../../electron/contract.ts';
import { keyName } from '../../machines/words/screens.ts';
import { allAsAtFirst, SETTINGS_TABLE, settingRows } from '../../renderer/app/settings-table.ts';
import { SettingsPage } from '../../renderer/screens/settings-page.tsx';
import { SETTINGS } from '../support/drills.ts';
import { Screen } from '../support/screen.tsx';
import { showSetUp } from '../support/set-up-screen.tsx';

const CHANGED: StationSettings = {
  ...SETTINGS,
  rigCheck: {
    outcome: 'passed',
    at: '2026-03-02T09:12:00.000Z',
    techniques: ['two-thumb'],
    stances: ['side'],
  },
  isBegunByHolding: true,
  instructorKeys: { '2': 'KeyQ' },
  guideline: 'uk-european-style',
  airway: 'secured',
  tolerance: 'first',
  roles: { compressor: 'B', ventilator: 'A' },
  technique: 'two-finger',
  stance: 'side',
  tempo: 'slow',
  weaning: { silentAfter: { cycles: 5, of: 6 }, returnsAfter: { cycles: 2, of: 4 }, leastMs: 10_000 },
  stations: 'several',
  sound: { isOn: false, volume: 0.5, pitch: 3 },
  plan: 'both-techniques',
  language: 'german',
};

function Page({ at }: { at: StationSettings }) {
  const [settings, setSettings] = useState(at);
  return (
    <SettingsPage
      settings={settings}
      nameOfKey={(code) => keyName(code)}
      onChange={(changes) => setSettings({ ...settings, ...changes })}
      onBack={() => undefined}
    />
  );
}

const rowsOf = (screen: Screen) =>
  [...screen.element.querySelectorAll('tbody tr')].map((row) =>
    [...row.children].map((cell) => cell.textContent?.trim()),
  );

test('every setting is in the table', () => {
  expect(Object.keys(SETTINGS_TABLE).sort()).toEqual(Object.keys(SETTINGS).sort());
  expect(Object.keys(SETTINGS_TABLE).sort()).toEqual(Object.keys(FIRST_SETTINGS).sort());
});

test('each is told as it is, as it was at first, and where it is changed', async () => {
  const screen = await Screen.show(<Page at={CHANGED} />);
  const rows = rowsOf(screen);
  expect(rows).toContainEqual(['Who practises', 'Ada, Ben', 'none', 'Set-up: Who practises']);
  expect(rows).toContainEqual([
    'Instructor’s keys',
    'Swap: Q As at first',
    'as at first',
    'Set-up: Instructor’s keys',
  ]);
  expect(rows).toContainEqual([
    'When a weaned count falls silent and returns',
    'silent after 5 of 6, back after 2 of 4, 10 s at least As at first',
    'silent after 8 of 10, back after 3 of 5, 15 s at least',
    'Set-up, below a weaned count',
  ]);
  expect(rows.length).toBe(Object.keys(SETTINGS).length);
  expect(rows.flat().filter((cell) => cell === '' || cell === undefined)).toEqual([]);
});

test('one, or all that is not a name or a switch, is put back to what it was at first', async () => {
  const screen = await Screen.show(<Page at={CHANGED} />);
  const one = screen.element.querySelector<HTMLButtonElement>('[aria-label="As at first: Technique"]');
  if (one === null) throw new Error('the technique cannot be put back');
  await screen.click(one);
  expect(rowsOf(screen).find(([label]) => label === 'Technique')?.[1]).toBe('Two-thumb');
  await screen.click(screen.button('All as at first'));
  expect(screen.element.querySelectorAll('tbody button').length).toBe(0);
  expect(rowsOf(screen).find(([label]) => label === 'Who practises')?.[1]).toBe('Ada, Ben');
  const nameOf = (code: string) => code;
  expect({ ...CHANGED, ...allAsAtFirst(CHANGED, nameOf) }).toEqual({
    ...FIRST_SETTINGS,
    people: CHANGED.people,
    switches: CHANGED.switches,
    boundAt: CHANGED.boundAt,
    rigCheck: CHANGED.rigCheck,
    switchCheck: CHANGED.switchCheck,
    cautionsReadAt: CHANGED.cautionsReadAt,
  });
  expect(settingRows(FIRST_SETTINGS, nameOf).flatMap(({ reset }) => reset ?? [])).toEqual([]);
});

test('it is opened from Set-up, and what is put back there is remembered at once', async () => {
  const { screen, remembered } = await showSetUp({ language: 'german' });
  await screen.click(screen.button('All settings and their defaults'));
  const label = 'As at first: What the learners read and hear';
  const one = screen.element.querySelector<HTMLButtonElement>(`[aria-label="${label}"]`);
  if (one === null) throw new Error('the language cannot be put back');
  await screen.click(one);
  await screen.click(screen.button('Back to Set-up'));
  expect(screen.field('English').checked).toBe(true);
  expect(remembered.map(({ language }) => language)).toEqual(['english']);
});
