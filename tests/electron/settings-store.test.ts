import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseArgument } from '../../electron/arguments.ts';
import type { StationSettings } from '../../electron/contract.ts';
import { SettingsStore } from '../../electron/settings-store.ts';
import { SETTINGS } from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

test('what was saved last is loaded, and no temporary file is left', async () => {
  const folder = join(await makeTempFolder(), 'new');
  const store = new SettingsStore(join(folder, 'settings.json'));
  const saves = ['us-style', 'uk-style', 'eu-style'].map((guideline) =>
    store.save({ ...SETTINGS, guideline }),
  );
  expect(await Promise.all(saves)).toEqual([1, 2, 3].map(() => ({ ok: true, value: null })));
  expect(await store.load()).toEqual({ ...SETTINGS, guideline: 'eu-style' });
  expect(await readdir(folder)).toEqual(['settings.json']);
});

test.each([
  ['nothing', ''],
  ['no JSON', '{"version":4,'],
  ['no version', JSON.stringify({ settings: SETTINGS })],
  ['a list', '[]'],
  ['a field too many', JSON.stringify({ version: 4, settings: { ...SETTINGS, extra: 1 } })],
  ['a technique nobody knows', JSON.stringify({ version: 4, settings: { ...SETTINGS, technique: 'fist' } })],
])(
  'a file with %s is no settings, is left as it is, and is put aside when new ones are saved',
  async (_what, text) => {
    const folder = await makeTempFolder();
    const path = join(folder, 'settings.json');
    await writeFile(path, text);
    const store = new SettingsStore(path);
    expect(await store.load()).toBe(null);
    expect(await readFile(path, 'utf8')).toBe(text);
    expect(await store.save(SETTINGS)).toEqual({ ok: true, value: null });
    expect(await store.load()).toEqual(SETTINGS);
    expect(await readFile(`${path}.bad`, 'utf8')).toBe(text);
  },
);

test('settings of the first version are read: their keys are switches', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const {
    switches: _switches,
    boundAt: _at,
    rigCheck: _check,
    isBegunByHolding: _holding,
    instructorKeys: _instructorKeys,
    language: _language,
    cautionsReadAt: _read,
    ...kept
  } = SETTINGS;
  const settings = { ...kept, keys: { chest: 'KeyF', airway: 'KeyJ' } };
  const first = JSON.stringify({ version: 1, settings });
  await writeFile(path, first);
  const store = new SettingsStore(path);
  expect(await store.load()).toEqual({ ...SETTINGS, cautionsReadAt: null });
  expect(await store.save(SETTINGS)).toEqual({ ok: true, value: null });
  expect(JSON.parse(await readFile(path, 'utf8'))).toEqual({ version: 4, settings: SETTINGS });
  // Who goes back to the earlier release has its settings still.
  expect(await readFile(`${path}.version-1`, 'utf8')).toBe(first);
});

test('settings of the second version are read: the instructor’s keys are as at first', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const {
    instructorKeys: _keys,
    language: _language,
    cautionsReadAt: _read,
    ...kept
  } = { ...SETTINGS, isBegunByHolding: true };
  const second = JSON.stringify({ version: 2, settings: kept });
  await writeFile(path, second);
  const store = new SettingsStore(path);
  const settings = await store.load();
  expect(settings).toEqual({
    ...SETTINGS,
    isBegunByHolding: true,
    instructorKeys: {},
    cautionsReadAt: null,
  });
  await store.save({ ...SETTINGS, instructorKeys: { '2': 'KeyQ', '/': 'Slash' } });
  expect(await store.load()).toEqual({ ...SETTINGS, instructorKeys: { '2': 'KeyQ', '/': 'Slash' } });
  expect(await readFile(`${path}.version-2`, 'utf8')).toBe(second);
});

test('settings of the third version are read: English, and the cautions are still to be read', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const { language: _language, cautionsReadAt: _read, ...kept } = { ...SETTINGS, stance: 'side' };
  await writeFile(path, JSON.stringify({ version: 3, settings: kept }));
  const store = new SettingsStore(path);
  expect(await store.load()).toEqual({
    ...SETTINGS,
    stance: 'side',
    language: 'english',
    cautionsReadAt: null,
  });
  await store.save({ ...SETTINGS, language: 'german' });
  expect(await store.load()).toEqual({ ...SETTINGS, language: 'german' });
});

test('a file of one version with the fields of another is no settings', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const { instructorKeys: _keys, ...kept } = SETTINGS;
  await writeFile(path, JSON.stringify({ version: 4, settings: kept }));
  expect(await new SettingsStore(path).load()).toBe(null);
});

test('switches are remembered by device, and the day’s check with them', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const settings: StationSettings = {
    ...SETTINGS,
    switches: {
      chest: { kind: 'pad-axis', pad: 'Pressure pad', index: 1, axis: 2, rest: -1, towards: 1 },
      airway: { kind: 'pad-button', pad: 'Board', index: 0, button: 3 },
    },
    boundAt: '2026-03-02T09:10:00.000Z',
    rigCheck: {
      outcome: 'passed',
      at: '2026-03-02T09:12:00.000Z',
      techniques: ['two-thumb', 'two-finger'],
      stances: ['side'],
    },
    isBegunByHolding: true,
  };
  await new SettingsStore(path).save(settings);
  expect(await new SettingsStore(path).load()).toEqual(settings);
});

test.each([
  [
    'a switch of a kind nobody knows',
    { switches: { ...SETTINGS.switches, chest: { kind: 'midi', note: 3 } } },
  ],
  ['a button of no pad', { switches: { ...SETTINGS.switches, chest: { kind: 'pad-button', button: 3 } } }],
  [
    'an axis that rests half way',
    {
      switches: {
        ...SETTINGS.switches,
        chest: { kind: 'pad-axis', pad: 'x', index: 0, axis: 0, rest: 0.5, towards: 1 },
      },
    },
  ],
  [
    'a check without a time',
    { rigCheck: { outcome: 'passed', techniques: ['two-thumb'], stances: ['side'] } },
  ],
  ['a language nobody has words for', { language: 'latin' }],
  ['cautions read at no time', { cautionsReadAt: 'yesterday' }],
  ['an instructor’s key that does not exist', { instructorKeys: { q: 'KeyQ' } }],
  ['an instructor’s key with no code', { instructorKeys: { '1': '<b>' } }],
  ['a key that is no code', { switches: { ...SETTINGS.switches, chest: { kind: 'key', code: '<script>' } } }],
])('settings with %s are refused', (_what, changes) => {
  expect(parseArgument['settings:save']({ ...SETTINGS, ...changes })).toMatchObject({
    ok: false,
    code: 'bad-argument',
  });
});

test('settings of a newer release are neither loaded nor overwritten', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const text = '{"version":99,"settings":{"keys":[]}}';
  await writeFile(path, text);
  const store = new SettingsStore(path);
  expect(await store.load()).toBe(null);
  expect(await store.save(SETTINGS)).toMatchObject({ ok: false, code: 'newer-version' });
  expect(await readFile(path, 'utf8')).toBe(text);
});

test('a folder that cannot be made is a failure with its code', async () => {
  const folder = await makeTempFolder();
  await writeFile(join(folder, 'file'), '');
  const store = new SettingsStore(join(folder, 'file', 'settings.json'));
  expect(await store.save(SETTINGS)).toMatchObject({ ok: false, code: 'disk' });
});

test('settings that cannot be saved are this station’s until it ends, so that another window joins a drill with them', async () => {
  const path = join(await makeTempFolder(), 'settings.json');
  const newer = JSON.stringify({ version: 5, settings: {} });
  await writeFile(path, newer);
  const store = new SettingsStore(path);
  expect(await store.save(SETTINGS)).toMatchObject({ ok: false, code: 'newer-version' });
  expect(await store.load()).toEqual(SETTINGS);
  expect(await readFile(path, 'utf8')).toBe(newer);
  expect(await new SettingsStore(path).load()).toBe(null);
});
