import { cp, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Disk, nodeDisk } from '../../../electron/disk.ts';
import { JournalHost } from '../../../electron/journal-host.ts';
import { LedgerIndex } from '../../../electron/ledger/ledger-index.ts';
import { edges, makeIds, numbered, setupOf, WINDOW_ID } from '../../support/drills.ts';
import { makeTempFolder } from '../../support/folder-for-test.ts';
import { ForgetfulDisk } from '../../support/forgetful-disk.ts';
import { keptJournal, ledgerOn } from '../../support/ledger-station.ts';

const FOLDER = '/journals';
const INDEX = `${FOLDER}/ledger-index.json`;
const KEPT = [1, 2, 3].map((seed) => keptJournal({ seed, openedAt: `2026-03-0${seed}T09:30:00.000Z` }));

function diskWithJournals(): ForgetfulDisk {
  const disk = new ForgetfulDisk();
  for (const { fileName, text } of KEPT) disk.put(`${FOLDER}/${fileName}`, text);
  return disk;
}

/** A disk that notes which files are read. */
function watched(disk: ForgetfulDisk): { disk: Disk; read: () => string[] } {
  const read: string[] = [];
  const seen: Disk = {
    makeFolder: () => disk.makeFolder(),
    syncFolder: () => disk.syncFolder(),
    list: (folder) => disk.list(folder),
    create: (path) => disk.create(path),
    mend: (path) => disk.mend(path),
    remove: (path) => disk.remove(path),
    rename: (from, to) => disk.rename(from, to),
    factsOf: (path) => disk.factsOf(path),
    read: (path, end) => {
      read.push(path);
      return disk.read(path, end);
    },
  };
  return { disk: seen, read: () => read.splice(0).filter((path) => path !== INDEX) };
}

const indexText = (disk: ForgetfulDisk) => Buffer.from(disk.bytesOf(INDEX)).toString('utf8');

describe('the index is never the truth', () => {
  test('what has not changed is not read again, by this station or the next', async () => {
    const disk = diskWithJournals();
    const seen = watched(disk);
    const { host } = ledgerOn(seen.disk);
    const first = await host.ledger();
    expect(seen.read()).toHaveLength(3);
    expect(await host.ledger()).toEqual(first);
    expect(await ledgerOn(seen.disk).host.ledger()).toEqual(first);
    expect(seen.read()).toEqual([]);
    const [one = KEPT[0]] = KEPT;
    disk.put(`${FOLDER}/${one?.fileName}`, `${one?.text}`.replace('"Ada"', '"Ida"'));
    expect(await ledgerOn(seen.disk).host.ledger()).toMatchObject({
      value: { entries: [{}, {}, { names: { A: 'Ida' } }] },
    });
    expect(seen.read()).toEqual([`${FOLDER}/${one?.fileName}`]);
  });

  test('in a folder of many, a journal that somebody changed by hand is read again in a while, and no list waits', async () => {
    const disk = diskWithJournals();
    for (let index = 0; index < 500; index += 1) disk.put(`${FOLDER}/${index}.antiphon.jsonl`, 'x');
    const clock = { ms: 0 };
    const index = new LedgerIndex(disk, FOLDER, { now: () => clock.ms, mayRead: () => true });
    const namesOf = async () => {
      const listed = await index.listAll(new Set());
      return listed.ok && listed.value.entries.map(({ names }) => names.A).sort();
    };
    expect(await namesOf()).toEqual(['Ada', 'Ada', 'Ada']);
    disk.put(`${FOLDER}/${KEPT[0]?.fileName}`, `${KEPT[0]?.text}`.replace('"Ada"', '"Ida"'));
    clock.ms = 2999;
    expect(await namesOf()).toEqual(['Ada', 'Ada', 'Ada']);
    clock.ms = 3000;
    await index.list(new Set());
    expect(await namesOf()).toEqual(['Ada', 'Ada', 'Ida']);
  });

  test.each<[string, (text: string) => string]>([
    ['torn', (text) => text.slice(0, text.length / 2)],
    ['of nothing', () => ''],
    ['changed by a byte', (text) => text.replace('"Ada"', '"Ida"')],
    ['an older release’s', (text) => text.replace('"version":2', '"version":1')],
    ['a newer release’s', (text) => text.replace('"version":2', '"version":3')],
    ['no JSON', (text) => `x${text}`],
  ])('one that is %s is made anew from the journals', async (_what, spoil) => {
    const disk = diskWithJournals();
    const first = await ledgerOn(disk).host.ledger();
    const whole = indexText(disk);
    disk.put(INDEX, spoil(whole));
    const seen = watched(disk);
    expect(await ledgerOn(seen.disk).host.ledger()).toEqual(first);
    expect(seen.read()).toHaveLength(3);
    const inOrder = (text: string) => text.split('').sort().join('');
    expect(inOrder(indexText(disk))).toBe(inOrder(whole));
  });

  test('a journal that is gone is in no list, and one that came is', async () => {
    const disk = diskWithJournals();
    const { host } = ledgerOn(disk);
    await host.list();
    const [one, two] = KEPT;
    await disk.remove(`${FOLDER}/${one?.fileName}`);
    disk.put(`${FOLDER}/copied.antiphon.jsonl`, `${two?.text}`);
    const listed = await host.list();
    expect(listed.ok && listed.value.map(({ fileName }) => fileName)).toEqual([
      KEPT[2]?.fileName,
      'copied.antiphon.jsonl',
      KEPT[1]?.fileName,
    ]);
  });
});

test('in a folder that cannot be written, everything is listed and read, and a drill says that it is not saved', async () => {
  const disk = diskWithJournals();
  for (const call of ['create', 'mend', 'remove', 'rename'])
    disk.failures.set(call, Array<string>(50).fill('EROFS'));
  const { host, ledger } = ledgerOn(disk);
  expect(await host.list()).toMatchObject({ ok: true, value: [{}, {}, {}] });
  expect(await host.read(KEPT[0]?.drillId ?? '')).toMatchObject({ ok: true });
  const message = (so: string) => `there is no permission to write the journal: ${so}`;
  expect(await host.openDrill(setupOf())).toEqual({
    ok: false,
    code: 'disk',
    message: message('these lines are not saved'),
  });
  expect(await ledger.renamePerson({ from: 'Ada', to: 'Ida', drillId: null })).toEqual({
    ok: false,
    code: 'disk',
    message: message('nothing was changed'),
  });
  expect(disk.paths()).toEqual(KEPT.map(({ fileName }) => `${FOLDER}/${fileName}`));
});

test('a share that goes away in a drill and comes back has cost no acknowledged line', async () => {
  const disk = diskWithJournals();
  const { host } = ledgerOn(disk);
  const listed = await host.list();
  const opened = await host.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  const batch = (sequence: number, from: number) => ({
    drillId,
    windowId: WINDOW_ID,
    sequence,
    lines: edges(4, from),
  });
  expect(await host.append(batch(1, 1))).toMatchObject({ ok: true });
  disk.isAway = true;
  const unsaved = 'the journal cannot be written (EHOSTDOWN): these lines are not saved';
  expect(await host.append(batch(2, 5))).toEqual({ ok: false, code: 'disk', message: unsaved });
  expect(await host.list()).toEqual({
    ok: false,
    code: 'disk',
    message: 'the folder of the journals cannot be reached (EHOSTDOWN): is its disk or share there?',
  });
  disk.isAway = false;
  expect(await host.append(batch(2, 5))).toEqual({ ok: true, value: { throughLine: 9 } });
  const read = await host.read(drillId);
  expect(read.ok && read.value.lines).toEqual(numbered(edges(8)));
  const after = await host.list();
  expect(after.ok && after.value.filter((entry) => entry.drillId !== drillId)).toEqual(
    listed.ok && listed.value,
  );
});

test('a station of another computer that looks into the folder harms no drill that runs', async () => {
  const disk = new ForgetfulDisk();
  const one = ledgerOn(disk).host;
  const other = ledgerOn(disk, FOLDER, FOLDER, makeIds()).host;
  const opened = await one.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const { drillId } = opened.value;
  disk.longestWrite = 7;
  for (let sequence = 1; sequence <= 10; sequence += 1) {
    const lines = edges(4, 4 * sequence - 3);
    const answer = one.append({ drillId, windowId: WINDOW_ID, sequence, lines });
    // In the middle of a line.
    await other.list();
    await other.read(drillId);
    expect(await answer).toMatchObject({ ok: true });
  }
  const read = await one.read(drillId);
  expect(read.ok && read.value.lines).toEqual(numbered(edges(40)));
});

test('a clock that was set back brings no two drills under one name, and the list is by what was written down', async () => {
  const disk = new ForgetfulDisk();
  const times = ['2026-03-02T09:30:00.000Z', '2026-03-02T09:29:00.000Z', '2026-03-02T09:30:00.400Z'];
  let count = 0;
  const host = new JournalHost({
    disk,
    folder: FOLDER,
    newId: () => `00000001-0000-4000-8000-00000000000${count}`,
    now: () => new Date(times[count++] ?? ''),
  });
  for (const _ of times) expect(await host.openDrill(setupOf())).toMatchObject({ ok: true });
  const listed = await host.list();
  expect(listed.ok && listed.value.map(({ fileName, openedAt }) => [fileName, openedAt])).toEqual([
    ['2026-03-02T09-30-00Z-00000001-0000-4000-8000-000000000003.antiphon.jsonl', times[2]],
    ['2026-03-02T09-30-00Z-00000001.antiphon.jsonl', times[0]],
    ['2026-03-02T09-29-00Z-00000001.antiphon.jsonl', times[1]],
  ]);
});

describe('on a real disk', () => {
  test('a search goes into every folder but for the browser’s own at the top', async () => {
    const folder = await makeTempFolder();
    for (const inner of ['window-x', join('journals', 'window-x')]) {
      await mkdir(join(folder, inner), { recursive: true });
      await writeFile(join(folder, inner, 'note.txt'), 'Zoe');
    }
    const { ledger } = ledgerOn(nodeDisk, join(folder, 'journals'), folder);
    expect(await ledger.search('zoe')).toEqual({
      ok: true,
      value: { files: ['journals/window-x/note.txt'] },
    });
  });

  test.each([
    ['composed', 'Zo\u00e9', 'Zoe\u0301'],
    ['from right to left', 'נועה', 'נועה'],
    ['of pictures', '👩🏽‍⚕️👩🏽‍⚕️', '👩🏽‍⚕️👩🏽‍⚕️'],
    ['with half a character', 'A\ud800b', 'a\ud800B'],
    ['of marks', '"\\\u2028', '"\\\u2028'],
  ])('a name %s is kept as it was typed, found, put right and removed', async (_what, name, sought) => {
    const folder = join(await makeTempFolder(), 'journals');
    const { host, ledger } = ledgerOn(nodeDisk, folder);
    const opened = await host.openDrill(setupOf({ people: { A: name, B: 'Ben' } }));
    if (!opened.ok) throw new Error(opened.message);
    const { drillId } = opened.value;
    await host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines: [{ kind: 'close', at: 1 }] });
    expect(await host.read(drillId)).toMatchObject({ value: { open: { people: { A: name } } } });
    expect(await ledger.person(sought, null)).toMatchObject({ ok: true, value: { name, drills: 1 } });
    expect(await ledger.search(sought)).toMatchObject({
      ok: true,
      value: { files: [expect.any(String), 'ledger-index.json'] },
    });
    expect(await ledger.renamePerson({ from: sought, to: `${name} X`, drillId })).toEqual({
      ok: true,
      value: { drills: 1 },
    });
    expect(await ledger.removePerson(`${sought} x`)).toEqual({
      ok: true,
      value: { drills: 1, removedDrills: 0, leftIn: [] },
    });
    expect(await host.read(drillId)).toMatchObject({
      value: { open: { people: { A: 'someone', B: 'Ben' } } },
    });
    await host.leave();
  });

  test('copying the folder is the back-up, and copying it back restores everything', async () => {
    const root = await makeTempFolder();
    const [folder, copy] = [join(root, 'journals'), join(root, 'copy')];
    await mkdir(folder);
    for (const { fileName, text } of KEPT) await writeFile(join(folder, fileName), text);
    const { host, ledger } = ledgerOn(nodeDisk, folder);
    await ledger.file({ drillId: KEPT[0]?.drillId ?? '', title: 'Kept', archived: true });
    const before = await host.ledger();
    const page = await ledger.person('Ada', 30);
    expect(page.ok && page.value?.drills).toBe(3);
    await cp(folder, copy, { recursive: true });
    await rm(folder, { recursive: true });
    expect(await host.list()).toMatchObject({ ok: false, code: 'disk' });
    await cp(copy, folder, { recursive: true });
    for (const station of [{ host, ledger }, ledgerOn(nodeDisk, folder), ledgerOn(nodeDisk, copy)]) {
      expect(await station.host.ledger()).toEqual(before);
      expect(await station.ledger.person('Ada', 30)).toEqual(page);
    }
    for (const name of await readdir(folder)) {
      if (name !== 'ledger-index.json')
        expect(await readFile(join(folder, name))).toEqual(await readFile(join(copy, name)));
    }
  });
});
