import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LinesWritten, Remark } from '../../electron/contract.ts';
import { nodeDisk } from '../../electron/disk.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import {
  edgeAt,
  edges,
  makeIds,
  numbered,
  OPENED_AT,
  setupOf,
  textOf,
  WINDOW_ID,
} from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { ForgetfulDisk } from '../support/forgetful-disk.ts';

/** What the instructor says when a drill is over: to whose journals it is added, and what a bad disk or an end in the middle leaves. */
const FOLDER = '/journals';
const MARK: Remark = { kind: 'mark', row: 1000.2, missed: true };
const SIGNATURE: Remark = {
  kind: 'signature',
  person: 'A',
  by: 'Cleo',
  standard: 'The course’s own',
  decision: 'met',
};
const CLOSE = { kind: 'close', at: 9 } as const;
const added = (remark: Remark, at = 9) =>
  remark.kind === 'mark' ? { ...remark, at } : { ...remark, at, signedAt: OPENED_AT };

const hostOn = (disk: ForgetfulDisk, newId = makeIds()) =>
  new JournalHost({ disk, folder: FOLDER, newId, now: () => new Date(OPENED_AT) });

async function openDrill(host: JournalHost, changes = {}): Promise<string> {
  const opened = await host.openDrill(setupOf(changes));
  if (!opened.ok) throw new Error(opened.message);
  return opened.value.drillId;
}

/** A drill of two edges, closed, and its host. */
async function closedDrill(
  disk: ForgetfulDisk,
  changes = {},
): Promise<{ host: JournalHost; drillId: string }> {
  const host = hostOn(disk);
  const drillId = await openDrill(host, changes);
  await host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines: [...edges(2), CLOSE] });
  return { host, drillId };
}

const pathOf = (disk: ForgetfulDisk) => disk.paths()[0] ?? '';
const fileText = (disk: ForgetfulDisk) => Buffer.from(disk.bytesOf(pathOf(disk))).toString();

describe('a drill that is over', () => {
  test('takes remarks one after the other, numbered on, each flushed before it is answered', async () => {
    const disk = new ForgetfulDisk();
    const { host, drillId } = await closedDrill(disk);
    const heard: LinesWritten[] = [];
    host.onLinesWritten((written) => heard.push(written));
    disk.calls.length = 0;
    await host.remark({ drillId, remarks: [MARK] });
    expect(disk.calls).toEqual(['mend', 'write', 'sync', 'close']);
    const unmark: Remark = { ...MARK, missed: false };
    const answer = await host.remark({ drillId, remarks: [unmark, SIGNATURE] });
    const lines = numbered([...edges(2), CLOSE, added(MARK), added(unmark), added(SIGNATURE)]);
    expect(answer).toMatchObject({ ok: true, value: { lines, isClosed: true } });
    expect(heard).toEqual([
      { drillId, lines: lines.slice(3, 4) },
      { drillId, lines: lines.slice(4) },
    ]);
    expect(await host.list()).toMatchObject({ ok: true, value: [{ drillId, isClosed: true }] });
  });

  test('takes them from the next host as well, and only the remark’s bytes are new', async () => {
    const disk = new ForgetfulDisk();
    const { host, drillId } = await closedDrill(disk);
    await host.leave();
    const before = fileText(disk);
    const after = hostOn(disk);
    expect(await after.remark({ drillId, remarks: [MARK] })).toMatchObject({ ok: true });
    expect(fileText(disk)).toBe(`${before}${textOf(added(MARK))}`);
  });

  test('keeps all of many that are sent at once, beside reading and listing', async () => {
    const disk = new ForgetfulDisk();
    const { host, drillId } = await closedDrill(disk);
    disk.longestWrite = 7;
    const remarks = [1, 2, 3, 4, 5].map((row): Remark => ({ kind: 'mark', row, missed: true }));
    const answers = await Promise.all([
      ...remarks.map((remark) => host.remark({ drillId, remarks: [remark] })),
      host.list(),
      host.read(drillId),
    ]);
    expect(answers.map(({ ok }) => ok)).toEqual(answers.map(() => true));
    const read = await host.read(drillId);
    expect(read.ok && read.value.lines).toEqual(
      numbered([...edges(2), CLOSE, ...remarks.map((remark) => added(remark))]),
    );
  });

  test('on a rhythm rig takes marks and no signature', async () => {
    const { host, drillId } = await closedDrill(new ForgetfulDisk(), { rig: 'rhythm' });
    expect(await host.remark({ drillId, remarks: [MARK, SIGNATURE] })).toEqual({
      ok: false,
      code: 'not-allowed',
      message: 'no sign-off rests on a rhythm rig',
    });
    expect(await host.remark({ drillId, remarks: [MARK] })).toMatchObject({ ok: true });
  });
});

describe('a drill that is not closed', () => {
  test('takes none while it runs here', async () => {
    const host = hostOn(new ForgetfulDisk());
    const drillId = await openDrill(host);
    expect(await host.remark({ drillId, remarks: [MARK] })).toEqual({
      ok: false,
      code: 'not-allowed',
      message: 'this drill is not over yet',
    });
  });

  test('takes them when its host has died, once its torn end is cut off', async () => {
    const disk = new ForgetfulDisk();
    const file = await disk.create(join(FOLDER, 'a.antiphon.jsonl'));
    const drillId = makeIds()();
    const open = { kind: 'open', version: 1, id: drillId, openedAt: OPENED_AT, ...setupOf() } as const;
    await file.write(Buffer.from(`${textOf(open, edgeAt(5))}{"torn`), 0);
    await file.sync();
    const answer = await hostOn(disk).remark({ drillId, remarks: [SIGNATURE] });
    const recovered = { kind: 'recovered', at: 5, bytes: 6, text: '{"torn' } as const;
    expect(answer).toMatchObject({ ok: true, value: { isClosed: false } });
    expect(fileText(disk)).toBe(textOf(open, edgeAt(5), recovered, added(SIGNATURE, 5)));
  });
});

describe('a journal by a newer release', () => {
  test('is refused and left as it is', async () => {
    const disk = new ForgetfulDisk();
    const newer = '{"kind":"open","version":2,"id":"00000007-0000-4000-8000-000000000000"}\nanything';
    const file = await disk.create(join(FOLDER, '2027-01-01T00-00-00Z-00000007.antiphon.jsonl'));
    await file.write(Buffer.from(newer), 0);
    const drillId = '00000007-0000-4000-8000-000000000000';
    expect(await hostOn(disk).remark({ drillId, remarks: [MARK] })).toMatchObject({
      ok: false,
      code: 'newer-version',
    });
    expect(fileText(disk)).toBe(newer);
  });
});

describe('on a bad disk', () => {
  test.each([
    ['mend', 'EROFS', 'there is no permission to write the journal: these lines are not saved'],
    ['write', 'ENOSPC', 'the disk is full: these lines are not saved'],
    ['sync', 'EIO', 'the disk reports a fault: these lines are not saved'],
  ])(
    'a %s that fails is said, nobody hears of the remark, and it may be sent again',
    async (call, code, message) => {
      const disk = new ForgetfulDisk();
      const { host, drillId } = await closedDrill(disk);
      const before = fileText(disk);
      const heard: LinesWritten[] = [];
      host.onLinesWritten((written) => heard.push(written));
      disk.failures.set(call, [code]);
      expect(await host.remark({ drillId, remarks: [MARK] })).toEqual({ ok: false, code: 'disk', message });
      expect([fileText(disk), heard]).toEqual([before, []]);
      expect(await host.remark({ drillId, remarks: [MARK] })).toMatchObject({ ok: true });
      expect(fileText(disk)).toBe(`${before}${textOf(added(MARK))}`);
    },
  );

  test('half a line that could not be cut off again is mended before the next', async () => {
    const disk = new ForgetfulDisk();
    const { host, drillId } = await closedDrill(disk);
    const before = fileText(disk);
    disk.longestWrite = 12;
    disk.failures.set('write', [null, 'ENOSPC']);
    disk.failures.set('truncate', ['EIO']);
    expect(await host.remark({ drillId, remarks: [MARK] })).toMatchObject({ ok: false, code: 'disk' });
    expect(await host.remark({ drillId, remarks: [MARK] })).toMatchObject({ ok: true });
    const recovered = { kind: 'recovered', at: 9, bytes: 12, text: '{"kind":"mar' } as const;
    expect(fileText(disk)).toBe(`${before}${textOf(recovered, added(MARK))}`);
  });

  test('a torn end that cannot be cut off is not added to', async () => {
    const disk = new ForgetfulDisk();
    const { host, drillId } = await closedDrill(disk);
    const file = await disk.mend(pathOf(disk));
    await file.write(Buffer.from('{"kind'), disk.bytesOf(pathOf(disk)).length);
    const before = fileText(disk);
    disk.failures.set('mend', ['EROFS', 'EROFS']);
    expect(await host.remark({ drillId, remarks: [MARK] })).toEqual({
      ok: false,
      code: 'disk',
      message: 'the journal on the disk cannot be added to: these lines are not saved',
    });
    expect(fileText(disk)).toBe(before);
  });
});

test('when the power goes, no remark that was answered is lost, and the drill can be marked again', async () => {
  let crashes = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 4, max: 40 }),
      fc.integer({ min: 20, max: 400 }),
      fc.infiniteStream(fc.nat()),
      async (crashAfter, longestWrite, numbers) => {
        const disk = new ForgetfulDisk(crashAfter);
        disk.longestWrite = longestWrite;
        const seen = { drillId: '', isClosed: false, answered: 0 };
        const writing = markAll(disk, seen).then(() => true);
        if (!(await Promise.race([writing, quiet().then(() => false)]))) crashes += 1;
        if (!seen.isClosed) return;
        const host = hostOn(disk.afterCrash((below) => Number(numbers.next().value) % below));
        const read = await host.read(seen.drillId);
        if (!read.ok) throw new Error(read.message);
        const marks = read.value.lines.flatMap(({ line }) => (line.kind === 'mark' ? [line.row] : []));
        expect(marks).toEqual(ROWS.slice(0, marks.length));
        expect(marks.length).toBeGreaterThanOrEqual(seen.answered);
        expect(read.value.isClosed).toBe(true);
        expect(await host.remark({ drillId: seen.drillId, remarks: [MARK] })).toMatchObject({ ok: true });
      },
    ),
    { numRuns: 200, seed: 20260302 },
  );
  expect(crashes).toBeGreaterThan(50);
}, 60_000);

const ROWS = [1, 2, 3, 4, 5];

async function markAll(
  disk: ForgetfulDisk,
  seen: { drillId: string; isClosed: boolean; answered: number },
): Promise<void> {
  const { host, drillId } = await closedDrill(disk);
  seen.drillId = drillId;
  seen.isClosed = true;
  for (const row of ROWS) {
    const answer = await host.remark({ drillId, remarks: [{ kind: 'mark', row, missed: true }] });
    if (answer.ok) seen.answered += 1;
  }
}

/** Resolves once every call that will return has had more turns than it needs. */
async function quiet(): Promise<void> {
  for (let turn = 0; turn < 120; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}

test('on a real disk a mark is in the file when it is answered', async () => {
  const folder = await makeTempFolder();
  const host = new JournalHost({ disk: nodeDisk, folder, newId: makeIds(), now: () => new Date(OPENED_AT) });
  const drillId = await openDrill(host);
  await host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines: [...edges(2), CLOSE] });
  expect(await host.remark({ drillId, remarks: [MARK] })).toMatchObject({ ok: true });
  await host.leave();
  const after = new JournalHost({ disk: nodeDisk, folder, newId: makeIds(), now: () => new Date(OPENED_AT) });
  const read = await after.read(drillId);
  expect(read.ok && read.value.lines).toEqual(numbered([...edges(2), CLOSE, added(MARK)]));
});
