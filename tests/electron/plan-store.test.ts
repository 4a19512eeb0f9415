import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { PlanStore } from '../../electron/plan-store.ts';
import { formatPlan } from '../../machines/plans/plan-file.ts';
import { newPlan, READY_MADE } from '../../machines/plans/ready-made.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

async function storeIn(): Promise<{ store: PlanStore; folder: string }> {
  const folder = join(await makeTempFolder(), 'plans');
  return { store: new PlanStore(folder), folder };
}

test('a bad file among the plans is listed with its line and reason, and left as it is', async () => {
  const { store, folder } = await storeIn();
  await mkdir(folder);
  const bad = formatPlan(READY_MADE['cold-minute']).replace('"seconds": 60', '"seconds": 6000');
  await writeFile(join(folder, 'My own (2).antiphon-plan.json'), bad);
  await writeFile(join(folder, 'good.antiphon-plan.json'), formatPlan(READY_MADE['head-end']));
  await writeFile(join(folder, 'notes.txt'), 'not a plan');
  await mkdir(join(folder, 'zzz.antiphon-plan.json'));
  expect(await store.list()).toEqual({
    ok: true,
    value: [
      {
        fileName: 'My own (2).antiphon-plan.json',
        plan: null,
        problem: 'line 21: legs.0.seconds is not 5 to 3600 s, whole',
      },
      { fileName: 'good.antiphon-plan.json', plan: READY_MADE['head-end'], problem: null },
      { fileName: 'zzz.antiphon-plan.json', plan: null, problem: 'this is a folder, not a plan' },
    ],
  });
  expect(await readFile(join(folder, 'My own (2).antiphon-plan.json'), 'utf8')).toBe(bad);
});

test('a file of megabytes is refused without being read as a plan', async () => {
  const { store, folder } = await storeIn();
  await mkdir(folder);
  await writeFile(join(folder, 'huge.antiphon-plan.json'), ' '.repeat(3_000_000));
  expect(await store.list()).toMatchObject({
    value: [{ plan: null, problem: 'line 1: the file is too long for a plan' }],
  });
});

test('plans saved at once have names of their own, whatever they are called', async () => {
  const { store, folder } = await storeIn();
  const names = ['Con', '二分', 'Größe & Mut!', 'Con', '../../etc'];
  const saved = await Promise.all(names.map((name) => store.save({ fileName: null, plan: newPlan(name) })));
  const stems = ['con-1', 'plan-1', 'gro-e-mut-1', 'con-2', 'etc-1'];
  const files = stems.map((stem) => `${stem}.antiphon-plan.json`);
  expect(saved.map((result) => result.ok && result.value.fileName)).toEqual(files);
  expect((await readdir(folder)).sort()).toEqual([...files].sort());
});

test('a folder that cannot be made is said in words', async () => {
  const folder = await makeTempFolder();
  await writeFile(join(folder, 'file'), '');
  const store = new PlanStore(join(folder, 'file', 'plans'));
  const wanted = { fileName: null, plan: newPlan('A plan') };
  expect(await store.save(wanted)).toEqual({
    ok: false,
    code: 'disk',
    message: 'the plan cannot be saved (ENOTDIR)',
  });
  expect(await store.list()).toEqual({
    ok: false,
    code: 'disk',
    message: 'the plans cannot be read (ENOTDIR)',
  });
});
