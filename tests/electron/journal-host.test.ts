import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { LinesWritten } from '../../electron/contract.ts';
import { type Disk, nodeDisk } from '../../electron/disk.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import {
  edgeAt,
  edges,
  makeIds,
  numbered,
  OPENED_AT,
  OTHER_WINDOW_ID,
  openLineOf,
  setupOf,
  textOf,
  WINDOW_ID,
} from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

function makeHost(disk: Disk, folder = '/journals'): JournalHost {
  return new JournalHost({ disk, folder, newId: makeIds(), now: () => new Date(OPENED_AT) });
}

async function openDrill(host: JournalHost, changes = {}): Promise<string> {
  const opened = await host.openDrill(setupOf(changes));
  if (!opened.ok) throw new Error(opened.message);
  return opened.value.drillId;
}

const batch = (drillId: string, sequence: number, lines: ReturnType<typeof edges>, windowId = WINDOW_ID) => ({
  drillId,
  windowId,
  sequence,
  lines,
});

describe('batches', () => {
  test('a repeat gets the first answer and is written once', async () => {
    const host = makeHost(new ForgetfulDisk());
    const drillId = await openDrill(host);
    const first = await host.append(batch(drillId, 1, edges(2)));
    await host.append(batch(drillId, 2, edges(2, 3)));
    expect(first).toEqual({ ok: true, value: { throughLine: 3 } });
    expect(await host.append(batch(drillId, 1, edges(2)))).toEqual(first);
    const read = await host.read(drillId);
    expect(read.ok && read.value.lines).toEqual(numbered(edges(4)));
  });

  test('a repeat that comes while the first is being flushed is answered with it', async () => {
    const disk = new ForgetfulDisk();
    const host = makeHost(disk);
    const drillId = await openDrill(host);
    const both = await Promise.all([
      host.append(batch(drillId, 1, edges(2))),
      host.append(batch(drillId, 1, edges(2))),
    ]);
    expect(both).toEqual([
      { ok: true, value: { throughLine: 3 } },
      { ok: true, value: { throughLine: 3 } },
    ]);
    expect(disk.calls.filter((call) => call === 'sync')).toHaveLength(1);
  });

  test('a gap in the sequence is refused, and the missing batch may still come', async () => {
    const host = makeHost(new ForgetfulDisk());
    const drillId = await openDrill(host);
    expect(await host.append(batch(drillId, 2, edges(1)))).toEqual({
      ok: false,
      code: 'wrong-sequence',
      message: 'sequence is 2, and 1 comes next',
    });
    expect(await host.append(batch(drillId, 1, edges(1)))).toMatchObject({ ok: true });
  });

  test('each window counts for itself', async () => {
    const host = makeHost(new ForgetfulDisk());
    const drillId = await openDrill(host);
    const answers = await Promise.all([
      host.append(batch(drillId, 1, edges(1))),
      host.append(batch(drillId, 1, edges(1, 2), OTHER_WINDOW_ID)),
      host.append(batch(drillId, 2, edges(1, 3))),
    ]);
    expect(answers.map((answer) => answer.ok)).toEqual([true, true, true]);
    const read = await host.read(drillId);
    expect(read.ok && read.value.lines).toEqual(numbered(edges(3)));
  });

  test.each([
    ['time going back', [edgeAt(5), edgeAt(4)], 'line 2 of the batch: at goes back from 5 to 4'],
    [
      'a switch of the other binding',
      [edgeAt(5), { ...edgeAt(6), switch: 'A' as const }],
      'line 2 of the batch: switch is A, which a place binding does not have',
    ],
    [
      'a line after close',
      [{ kind: 'close' as const, at: 5 }, edgeAt(6)],
      'line 2 of the batch: kind comes after the close line',
    ],
    [
      'a mark after close',
      [
        { kind: 'close' as const, at: 5 },
        { kind: 'mark' as const, at: 5, row: 1, missed: true },
      ],
      'line 2 of the batch: kind comes after the close line',
    ],
  ])('with %s is refused whole', async (_what, lines, message) => {
    const host = makeHost(new ForgetfulDisk());
    const drillId = await openDrill(host);
    expect(await host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines })).toEqual({
      ok: false,
      code: 'bad-line',
      message,
    });
    const read = await host.read(drillId);
    expect(read.ok && [read.value.lines, read.value.isClosed]).toEqual([[], false]);
    expect(await host.append(batch(drillId, 1, edges(1)))).toEqual({ ok: true, value: { throughLine: 2 } });
  });

  test('after the close line nothing is taken, but its own repeat is answered', async () => {
    const host = makeHost(new ForgetfulDisk());
    const drillId = await openDrill(host);
    const close = { drillId, windowId: WINDOW_ID, sequence: 1, lines: [{ kind: 'close', at: 9 } as const] };
    expect(await host.append(close)).toEqual({ ok: true, value: { throughLine: 2 } });
    expect(await host.append(close)).toEqual({ ok: true, value: { throughLine: 2 } });
    expect(await host.append(batch(drillId, 2, edges(1, 10)))).toMatchObject({ ok: false, code: 'bad-line' });
  });

  test('a few closed drills still answer a repeat of their close line; a day of them is not kept', async () => {
    const host = makeHost(new ForgetfulDisk());
    const closes: Parameters<JournalHost['append']>[0][] = [];
    for (let drill = 0; drill < 5; drill += 1) {
      const drillId = await openDrill(host);
      closes.push({ drillId, windowId: WINDOW_ID, sequence: 1, lines: [{ kind: 'close', at: 9 }] });
      await host.append(closes[drill] ?? batch(drillId, 1, []));
    }
    const answers = await Promise.all(closes.map((close) => host.append(close)));
    expect(answers.map((answer) => (answer.ok ? answer.value.throughLine : answer.code))).toEqual([
      'no-such-drill',
      2,
      2,
      2,
      2,
    ]);
    const read = await host.read(closes[0]?.drillId ?? '');
    expect(read.ok && read.value.isClosed).toBe(true);
  });

  test('windows hear of lines in the order of the file', async () => {
    const host = makeHost(new ForgetfulDisk());
    const heard: LinesWritten[] = [];
    host.onLinesWritten((written) => heard.push(written));
    const drillId = await openDrill(host);
    await Promise.all(edges(50).map((line, index) => host.append(batch(drillId, index + 1, [line]))));
    expect(heard.flatMap(({ lines }) => lines)).toEqual(numbered(edges(50)));
  });

  test('windows hear nothing of lines that are not on the disk', async () => {
    const disk = new ForgetfulDisk();
    const host = makeHost(disk);
    const heard: LinesWritten[] = [];
    host.onLinesWritten((written) => heard.push(written));
    const drillId = await openDrill(host);
    disk.failures.set('sync', ['ENOSPC']);
    await host.append(batch(drillId, 1, edges(1)));
    expect(heard).toEqual([]);
  });

  test('what is being flushed is not read', async () => {
    const disk = new ForgetfulDisk();
    const host = makeHost(disk);
    const drillId = await openDrill(host);
    const answer = host.append(batch(drillId, 1, edges(1)));
    const read = await host.read(drillId);
    expect(read.ok && read.value.lines).toEqual([]);
    await answer;
  });
});

describe('the folder', () => {
  test('file names hold the time and no name of a person', async () => {
    const folder = await makeTempFolder();
    const host = makeHost(nodeDisk, folder);
    await openDrill(host, { people: { A: 'Ada', B: '../Ben' } });
    await host.leave();
    expect(await readdir(folder)).toEqual(['2026-03-02T09-30-00Z-00000001.antiphon.jsonl']);
  });

  test('other files, folders, damaged and newer journals are passed over and left as they are', async () => {
    const folder = await makeTempFolder();
    const newer = `{"kind":"open","version":2,"id":"00000007-0000-4000-8000-000000000000"}\nanything at all`;
    const damaged = `${textOf(openLineOf())}nonsense\n${textOf(edgeAt(1))}`;
    await writeFile(join(folder, 'notes.txt'), 'notes');
    await writeFile(join(folder, 'empty.antiphon.jsonl'), '');
    await writeFile(join(folder, 'damaged.antiphon.jsonl'), damaged);
    await writeFile(join(folder, '2027-01-01T00-00-00Z-00000007.antiphon.jsonl'), newer);
    await mkdir(join(folder, 'folder.antiphon.jsonl'));
    const host = makeHost(nodeDisk, folder);
    expect(await host.list()).toEqual({ ok: true, value: [] });
    expect(await host.read('00000007-0000-4000-8000-000000000000')).toMatchObject({
      ok: false,
      code: 'newer-version',
    });
    expect(await host.read('00000009-0000-4000-8000-000000000000')).toMatchObject({
      ok: false,
      code: 'no-such-drill',
    });
    expect(await readFile(join(folder, '2027-01-01T00-00-00Z-00000007.antiphon.jsonl'), 'utf8')).toBe(newer);
    expect(await readFile(join(folder, 'damaged.antiphon.jsonl'), 'utf8')).toBe(damaged);
    expect(await readFile(join(folder, 'empty.antiphon.jsonl'), 'utf8')).toBe('');
  });

  test('a folder that is not there yet is an empty list', async () => {
    const folder = join(await makeTempFolder(), 'none');
    expect(await makeHost(nodeDisk, folder).list()).toEqual({ ok: true, value: [] });
  });

  test('a drill left midway stays unclosed, can be read, and is not added to', async () => {
    const folder = await makeTempFolder();
    const before = makeHost(nodeDisk, folder);
    const drillId = await openDrill(before);
    await before.append(batch(drillId, 1, edges(2)));
    await before.leave();
    const after = makeHost(nodeDisk, folder);
    const read = await after.read(drillId);
    expect(read.ok && [read.value.lines, read.value.isClosed]).toEqual([numbered(edges(2)), false]);
    expect(await after.append(batch(drillId, 2, edges(1, 3)))).toMatchObject({
      ok: false,
      code: 'no-such-drill',
    });
  });

  test('a drill that changed on the disk is looked at again', async () => {
    const folder = await makeTempFolder();
    const path = join(folder, 'copied.antiphon.jsonl');
    const host = makeHost(nodeDisk, folder);
    await writeFile(path, textOf(openLineOf()));
    const before = await host.list();
    await writeFile(path, textOf(openLineOf(), { kind: 'close', at: 1 }));
    const after = await host.list();
    expect([before, after].map((list) => list.ok && list.value.map((entry) => entry.isClosed))).toEqual([
      [false],
      [true],
    ]);
  });
});
