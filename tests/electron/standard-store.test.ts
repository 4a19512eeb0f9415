import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { StandardStore } from '../../electron/standard-store.ts';
import { EXAMPLE_STANDARD } from '../../machines/standard/standard.ts';
import { formatStandard } from '../../machines/standard/standard-file.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

test('standards are saved under their own names, listed, and removed; a bad file is listed with its line and reason', async () => {
  const folder = join(await makeTempFolder(), 'standards');
  const store = new StandardStore(folder);
  expect(await store.list()).toEqual({ ok: true, value: [] });
  await mkdir(folder);
  const bad = formatStandard(EXAMPLE_STANDARD).replace('"compressor": 50', '"compressor": 0');
  await writeFile(join(folder, 'bad.antiphon-standard.json'), bad);
  await writeFile(join(folder, 'a.antiphon-plan.json'), 'a plan is not looked at');
  const saved = await store.save({ fileName: null, standard: EXAMPLE_STANDARD });
  expect(saved).toEqual({ ok: true, value: { fileName: 'example-1.antiphon-standard.json' } });
  const listedBad = {
    fileName: 'bad.antiphon-standard.json',
    standard: null,
    problem: 'line 9: requires.unledSeconds.compressor is not 1 to 3600 s',
  };
  const listedGood = {
    fileName: 'example-1.antiphon-standard.json',
    standard: EXAMPLE_STANDARD,
    problem: null,
  };
  expect(await store.list()).toEqual({ ok: true, value: [listedBad, listedGood] });
  expect(await readFile(join(folder, 'bad.antiphon-standard.json'), 'utf8')).toBe(bad);
  expect(await store.remove({ fileName: listedGood.fileName })).toEqual({ ok: true, value: null });
  expect(await store.list()).toEqual({ ok: true, value: [listedBad] });
});
