import { mkdir, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { runCommandLine } from '../../../electron/cli/antiphon.ts';
import { takeStationLock } from '../../../electron/station-lock.ts';
import { makeTempFolder } from '../../support/folder-for-test.ts';
import { keptJournal } from '../../support/ledger-station.ts';

const ADA = keptJournal(
  { seed: 1, people: { A: 'Ada', B: 'Ben' } },
  { filed: { title: 'First', archived: false } },
);
const CY = keptJournal({ seed: 2, people: { A: 'Cy', B: 'Ben' }, openedAt: '2026-03-05T08:00:00.000Z' });

async function stationFolder(): Promise<string> {
  const folder = await makeTempFolder();
  await mkdir(join(folder, 'journals'));
  for (const { fileName, text } of [ADA, CY]) await writeFile(join(folder, 'journals', fileName), text);
  await writeFile(join(folder, 'journals', 'newer.antiphon.jsonl'), '{"kind":"open","version":2}\n');
  return folder;
}

async function run(folder: string, ...words: string[]) {
  const said = { out: '', err: '' };
  const status = await runCommandLine(['ledger', ...words, '--folder', folder], {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    isWatched: false,
  });
  return { status, ...said };
}

describe('antiphon ledger', () => {
  test('lists what is kept, newest first, and says what it left alone', async () => {
    const folder = await stationFolder();
    const { status, out, err } = await run(folder, 'list');
    expect([status, err]).toEqual([
      0,
      'newer.antiphon.jsonl was made by a newer release, and is left untouched\n',
    ]);
    expect(out.split('\n').map((line) => line.replace(/\d+ of \d+/, 'N of N'))).toEqual([
      `2026-03-05 08:00 UTC · Cy and Ben · manikin · two-thumb · N of N cycles · ${CY.drillId}`,
      `2026-03-02 09:30 UTC · Ada and Ben · manikin · two-thumb · N of N cycles · “First” · ${ADA.drillId}`,
      '',
    ]);
    expect((await run(folder, 'find', 'first', 'ADA')).out).toContain(ADA.drillId);
    expect((await run(folder, 'list', '--before', '2026-03-05', '--person', 'cy')).out).toBe(
      'No drill is kept here that this would be.\n',
    );
    expect(JSON.parse((await run(folder, 'list', '--format', 'json')).out)).toMatchObject([
      {},
      { title: 'First' },
    ]);
  });

  test('shows a person’s page, with the partner beside every figure', async () => {
    const folder = await stationFolder();
    const { out } = await run(folder, 'show', 'BEN');
    expect(out).toMatch(/^Ben\n2 drills; in no trend: 0 led, 0 slowed, 0 without a cycle\n/);
    expect(out).toMatch(
      /As ventilator, manikin rig\n.*\n {2}2026-03-02 09:30 UTC, with Ada: .*\n {2}2026-03-05 08:00 UTC, with Cy: /,
    );
    expect(out).not.toContain('Rhythm rig');
    expect(out).not.toContain('method of choice');
    expect((await run(folder, 'show', 'Dee')).out).toBe('Nobody of that name drilled here.\n');
  });

  test('puts a name right, removes a person and a drill, and proves it', async () => {
    const folder = await stationFolder();
    expect((await run(folder, 'rename', 'cy', 'Cyd')).out).toBe('The name is put right in 1 drill.\n');
    expect(await run(folder, 'rename', 'Cyd', 'ben')).toMatchObject({
      status: 2,
      err: 'antiphon ledger: in one of these drills the other person has that name already\n',
    });
    expect((await run(folder, 'search', 'Ben')).out).toBe(
      `journals/${ADA.fileName}\njournals/${CY.fileName}\njournals/ledger-index.json\n`,
    );
    expect(await run(folder, 'remove', 'Ben')).toMatchObject({
      status: 0,
      out: expect.stringMatching(/^The name is gone from 2 drills, and 0 drills /),
    });
    expect((await run(folder, 'search', 'Ben')).out).toBe('The name stands in no file of the folder.\n');
    expect((await run(folder, 'remove', '--drill', CY.drillId)).out).toBe('The drill is gone.\n');
    expect(await readdir(join(folder, 'journals'))).toEqual([
      ADA.fileName,
      'ledger-index.json',
      'newer.antiphon.jsonl',
    ]);
  });

  test('does nothing while a station has the folder, and lets it go afterwards', async () => {
    const folder = await stationFolder();
    await run(folder, 'list');
    const lock = await takeStationLock(folder);
    expect(lock).not.toBe(null);
    onTestFinished(() => lock?.release());
    expect(await run(folder, 'remove', 'Ben')).toEqual({
      status: 3,
      out: '',
      err: `${folder}: a station has it open: close that first\n`,
    });
  });

  test.each([
    [['list'], 3, 'there is no such folder'],
    [['sing'], 2, 'say one of list, find, show, search, rename, remove'],
    [['show'], 2, 'show takes 1 to 1 words, not 0'],
    [['list', '--rig', 'cart'], 2, '--rig is one of manikin, rhythm'],
    [['remove'], 2, 'remove takes a name, or --drill ID'],
    [['rename', 'a', 'b', '--plan', 'x'], 2, 'rename takes no --plan'],
  ])('%j ends with %i', async (words, status, why) => {
    const { err, ...rest } = await run('/no/such/folder', ...words);
    expect(rest).toEqual({ status, out: '' });
    expect(err).toContain(why);
  });

  test('a day that is none is refused', async () => {
    const folder = await stationFolder();
    expect(await run(folder, 'list', '--from', 'monday')).toMatchObject({ status: 2, out: '' });
  });
});
