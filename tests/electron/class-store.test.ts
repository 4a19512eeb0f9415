import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ClassStore } from '../../electron/class-store.ts';
import { newClass } from '../../machines/class/class-file.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

const CLASS = newClass(['Ada', 'Ben', 'Cleo'], 1);

test('the class that was saved last is loaded, and no temporary file is left', async () => {
  const folder = join(await makeTempFolder(), 'new');
  const store = new ClassStore(join(folder, 'class.json'));
  expect(await store.load()).toEqual({ ok: true, value: null });
  const saves = [1, 2, 3].map((stations) => store.save({ ...CLASS, stations }));
  expect(await Promise.all(saves)).toEqual([1, 2, 3].map(() => ({ ok: true, value: null })));
  expect(await store.load()).toEqual({ ok: true, value: { ...CLASS, stations: 3 } });
  expect(await readdir(folder)).toEqual(['class.json']);
});

test('a class of a newer release is said to be one, and is left untouched', async () => {
  const path = join(await makeTempFolder(), 'class.json');
  const newer = JSON.stringify({ ...CLASS, version: 2, mood: 'good' });
  await writeFile(path, newer);
  const store = new ClassStore(path);
  const message = 'the class was saved by a newer release and is left untouched';
  const refused = { ok: false, code: 'newer-version', message };
  expect([await store.load(), await store.save(CLASS)]).toEqual([refused, refused]);
  expect(await readFile(path, 'utf8')).toBe(newer);
});

test('a file that is no class is put aside when one is saved', async () => {
  const path = join(await makeTempFolder(), 'class.json');
  await writeFile(path, '{"kind":');
  const store = new ClassStore(path);
  expect(await store.load()).toEqual({ ok: true, value: null });
  expect(await store.save(CLASS)).toEqual({ ok: true, value: null });
  expect(await store.load()).toEqual({ ok: true, value: CLASS });
  expect(await readFile(`${path}.bad`, 'utf8')).toBe('{"kind":');
});

test('a place that cannot be read or written is said in words', async () => {
  const folder = await makeTempFolder();
  await writeFile(join(folder, 'file'), '');
  const store = new ClassStore(join(folder, 'file', 'class.json'));
  const refusal = (what: string) => ({
    ok: false,
    code: 'disk',
    message: `the class cannot be ${what} (ENOTDIR)`,
  });
  expect([await store.load(), await store.save(CLASS)]).toEqual([refusal('read'), refusal('saved')]);
});
