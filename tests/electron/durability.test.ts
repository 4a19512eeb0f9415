import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { JournalFile } from '../../electron/journal-file.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { edges, makeIds, numbered, OPENED_AT, setupOf, WINDOW_ID } from '../support/drills.ts';
import { type Choose, ForgetfulDisk } from '../support/forgetful-disk.ts';

const FOLDER = '/journals';
const PATH = join(FOLDER, 'a.antiphon.jsonl');

function hostOn(disk: ForgetfulDisk, newId = makeIds()): JournalHost {
  return new JournalHost({ disk, folder: FOLDER, newId, now: () => new Date(OPENED_AT) });
}

async function openDrill(host: JournalHost): Promise<string> {
  const opened = await host.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  return opened.value.drillId;
}

const batchOf = (drillId: string, sequence: number, count: number, from: number) => ({
  drillId,
  windowId: WINDOW_ID,
  sequence,
  lines: edges(count, from),
});

describe('when the power goes', () => {
  test('nothing acknowledged is lost, and what survives can be read and added to by nobody', async () => {
    let crashes = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 0, max: 45 }),
        fc.integer({ min: 1, max: 400 }),
        fc.infiniteStream(fc.nat()),
        async (sizes, crashAfter, longestWrite, numbers) => {
          const disk = new ForgetfulDisk(crashAfter);
          disk.longestWrite = longestWrite;
          const seen = { opened: '', acknowledged: 1 };
          const writing = writeAll(disk, sizes, seen);
          const hasEnded = await Promise.race([writing.then(() => true), quiet().then(() => false)]);
          if (!hasEnded) crashes += 1;
          const choose: Choose = (below) => Number(numbers.next().value) % below;
          const survivor = disk.afterCrash(choose);
          await expectSurvival(survivor, seen, edges(sum(sizes)));
          await expectSurvival(survivor, seen, edges(sum(sizes)));
        },
      ),
      { numRuns: 300, seed: 20260302 },
    );
    expect(crashes).toBeGreaterThan(100);
  }, 60_000);
});

async function writeAll(
  disk: ForgetfulDisk,
  sizes: readonly number[],
  seen: { opened: string; acknowledged: number },
) {
  const host = hostOn(disk);
  seen.opened = await openDrill(host);
  let from = 1;
  const answers = sizes.map(async (size, index) => {
    const batch = batchOf(seen.opened, index + 1, size, from);
    from += size;
    const answer = await host.append(batch);
    if (answer.ok) seen.acknowledged = Math.max(seen.acknowledged, answer.value.throughLine);
  });
  await Promise.all(answers);
}

async function expectSurvival(
  disk: ForgetfulDisk,
  seen: { opened: string; acknowledged: number },
  sent: ReturnType<typeof edges>,
): Promise<void> {
  const host = hostOn(disk);
  const list = await host.list();
  if (seen.opened === '') return;
  expect(list.ok && list.value.map((entry) => [entry.drillId, entry.isClosed])).toEqual([
    [seen.opened, false],
  ]);
  const read = await host.read(seen.opened);
  if (!read.ok) throw new Error(read.message);
  const edgesRead = read.value.lines.filter(({ line }) => line.kind === 'edge');
  expect(edgesRead).toEqual(numbered(sent.slice(0, edgesRead.length)));
  expect(edgesRead.length + 1).toBeGreaterThanOrEqual(seen.acknowledged);
  const others = read.value.lines.filter(({ line }) => line.kind !== 'edge');
  expect(others.length).toBeLessThanOrEqual(1);
  for (const { line } of others) expect(line.kind).toBe('recovered');
}

/** Resolves once every call that will return has had more turns than it needs. */
async function quiet(): Promise<void> {
  for (let turn = 0; turn < 120; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, number) => total + number, 0);

describe('a journal file', () => {
  test('is made with its folder flushed before the drill is said to be open', async () => {
    const disk = new ForgetfulDisk();
    await openDrill(hostOn(disk));
    expect(disk.calls).toEqual(['create', 'write', 'syncAll', 'syncFolder']);
  });

  test('lines that come while a flush runs share the next one', async () => {
    const disk = new ForgetfulDisk();
    const host = hostOn(disk);
    const drillId = await openDrill(host);
    disk.calls.length = 0;
    await Promise.all(
      Array.from({ length: 100 }, (_, index) => host.append(batchOf(drillId, index + 1, 1, index + 1))),
    );
    expect(disk.calls).toEqual(['write', 'sync', 'write', 'sync']);
  });

  test.each([
    ['ENOSPC', 'the disk is full: these lines are not saved'],
    ['EIO', 'the disk reports a fault: these lines are not saved'],
    ['EACCES', 'there is no permission to write the journal: these lines are not saved'],
    ['EWEIRD', 'the journal cannot be written (EWEIRD): these lines are not saved'],
  ])('that cannot be made (%s) says so and leaves nothing behind', async (code, message) => {
    for (const call of ['write', 'syncAll', 'syncFolder']) {
      const disk = new ForgetfulDisk();
      disk.failures.set(call, [code]);
      expect(await hostOn(disk).openDrill(setupOf())).toEqual({ ok: false, code: 'disk', message });
      expect(disk.paths()).toEqual([]);
    }
  });

  test('a write that stops half-way leaves no half line, and the next append goes on from the last good one', async () => {
    const disk = new ForgetfulDisk();
    const made = await JournalFile.create(disk, PATH, 'first');
    if (!made.ok) throw new Error(made.message);
    disk.longestWrite = 3;
    disk.failures.set('write', [null, 'ENOSPC']);
    expect(await made.file.append(['second'])).toMatchObject({ ok: false, code: 'disk' });
    expect(textIn(disk)).toBe('first\n');
    expect(await made.file.append(['third'])).toEqual({ ok: true });
    expect(textIn(disk)).toBe('first\nthird\n');
  });

  test('is cut back before anything else when it could not be cut back at once', async () => {
    const disk = new ForgetfulDisk();
    const made = await JournalFile.create(disk, PATH, 'first');
    if (!made.ok) throw new Error(made.message);
    disk.longestWrite = 3;
    disk.failures.set('write', [null, 'EIO']);
    disk.failures.set('truncate', ['EIO', 'EIO']);
    expect(await made.file.append(['second'])).toMatchObject({ ok: false });
    expect(textIn(disk)).toBe('first\nsec');
    expect(await made.file.append(['third'])).toMatchObject({ ok: false });
    expect(textIn(disk)).toBe('first\n');
    expect(await made.file.append(['fourth'])).toEqual({ ok: true });
    expect(textIn(disk)).toBe('first\nfourth\n');
  });

  test('lines whose flush failed are written anew, not trusted to be there', async () => {
    const disk = new ForgetfulDisk();
    const host = hostOn(disk);
    const drillId = await openDrill(host);
    disk.failures.set('sync', ['EIO']);
    const first = host.append(batchOf(drillId, 1, 2, 1));
    const second = host.append(batchOf(drillId, 2, 2, 3));
    expect(await first).toMatchObject({ ok: false, code: 'disk' });
    expect(await second).toMatchObject({ ok: false, code: 'disk' });
    expect(await host.append(batchOf(drillId, 1, 2, 1))).toEqual({ ok: true, value: { throughLine: 3 } });
    expect(await host.append(batchOf(drillId, 2, 2, 3))).toEqual({ ok: true, value: { throughLine: 5 } });
    const read = await host.read(drillId);
    expect(read.ok && read.value.lines).toEqual(numbered(edges(4)));
  });

  test('a batch sent again at once is not undone by its neighbour that failed with it', async () => {
    const disk = new ForgetfulDisk();
    const host = hostOn(disk);
    const drillId = await openDrill(host);
    disk.failures.set('sync', ['EIO']);
    const first = host.append(batchOf(drillId, 1, 1, 1)).then(() => host.append(batchOf(drillId, 1, 1, 1)));
    const second = host.append(batchOf(drillId, 2, 1, 2)).then(() => host.append(batchOf(drillId, 2, 1, 2)));
    expect(await Promise.all([first, second])).toEqual([
      { ok: true, value: { throughLine: 2 } },
      { ok: true, value: { throughLine: 3 } },
    ]);
  });
});

function textIn(disk: ForgetfulDisk): string {
  expect(dirname(PATH)).toBe(FOLDER);
  return Buffer.from(disk.bytesOf(PATH)).toString('utf8');
}
