import { spawn, spawnSync } from 'node:child_process';
import { appendFile, mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { build } from 'vite';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { nodeDisk } from '../../electron/disk.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { takeStationLock } from '../../electron/station-lock.ts';
import { edges, makeIds, numbered, OPENED_AT, setupOf, WINDOW_ID } from '../support/drills.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

const hostOn = (folder: string) =>
  new JournalHost({ disk: nodeDisk, folder, newId: makeIds(), now: () => new Date(OPENED_AT) });

describe('a station killed in the middle of a drill', () => {
  let program = '';
  beforeAll(async () => {
    program = await buildChild();
  });

  test.each([1, 40, 400])('keeps every line acknowledged before the kill, at %i lines', async (count) => {
    const folder = await makeTempFolder();
    const child = spawn(process.execPath, [program, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
    const ended = new Promise((resolve) => child.once('exit', (_status, signal) => resolve(signal)));
    let drillId = '';
    let acknowledged = 0;
    for await (const text of createInterface(child.stdout)) {
      if (drillId === '') drillId = text;
      else acknowledged = Math.max(acknowledged, Number(text));
      if (acknowledged > count && !child.killed) child.kill('SIGKILL');
    }
    expect(await ended).toBe('SIGKILL');

    const [fileName = ''] = await readdir(folder);
    await appendFile(join(folder, fileName), '{"kind":"edge","at":99999,"swi\0\0\0');
    const read = await hostOn(folder).read(drillId);
    if (!read.ok) throw new Error(read.message);
    const lines = read.value.lines.filter(({ line }) => line.kind === 'edge');
    expect(acknowledged).toBeGreaterThan(count);
    expect(lines.length + 1).toBeGreaterThanOrEqual(acknowledged);
    expect(lines).toEqual(numbered(edges(lines.length)));
    expect(read.value.lines.slice(lines.length).map(({ line }) => line.kind)).toEqual(['recovered']);
    expect(read.value.isClosed).toBe(false);
    const list = await hostOn(folder).list();
    expect(list.ok && list.value.map((entry) => entry.fileName)).toEqual([fileName]);
  });
});

/** Puts the child and what it imports into one file that Node runs as it is. */
async function buildChild(): Promise<string> {
  const outDir = join(import.meta.dirname, '../../dist/tests-child');
  await build({
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: { ssr: join(import.meta.dirname, '../support/journal-child.ts'), outDir, emptyOutDir: true },
  });
  const [name = ''] = (await readdir(outDir)).filter((file) => file.startsWith('journal-child'));
  return join(outDir, name);
}

const canMount = process.platform === 'linux' && process.getuid?.() === 0;
test.skipIf(!canMount)(
  'a full disk refuses what it cannot take, keeps what it has, and takes more when there is room',
  async () => {
    const folder = await makeTempFolder();
    const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', folder]).status === 0;
    // Containers may forbid mounting even to root; the disk of the test in durability.test.ts stands in there.
    if (!mounted) return;
    onTestFinished(() => void spawnSync('umount', [folder]));
    const host = hostOn(folder);
    const opened = await host.openDrill(setupOf());
    if (!opened.ok) throw new Error(opened.message);
    const { drillId, fileName } = opened.value;
    const note = { kind: 'note', at: 1, text: 'x'.repeat(3000) } as const;
    let sequence = 0;
    let answer = await host.append({ drillId, windowId: WINDOW_ID, sequence: 1, lines: [note] });
    while (answer.ok) {
      sequence += 1;
      answer = await host.append({
        drillId,
        windowId: WINDOW_ID,
        sequence: sequence + 1,
        lines: [note, note, note],
      });
    }
    expect(answer).toEqual({
      ok: false,
      code: 'disk',
      message: 'the disk is full: these lines are not saved',
    });
    expect((await readFile(join(folder, fileName), 'utf8')).endsWith('\n')).toBe(true);
    const small = { drillId, windowId: WINDOW_ID, sequence: sequence + 1, lines: edges(1) };
    expect(await host.append(small)).toMatchObject({ ok: true });
    expect(await host.openDrill(setupOf())).toMatchObject({ ok: true });
    await writeFile(join(folder, 'filler'), Buffer.alloc(64 * 1024)).catch(() => undefined);
    expect(await host.openDrill(setupOf())).toMatchObject({ ok: false, code: 'disk' });
    const read = await host.read(drillId);
    expect(read.ok && read.value.lines.length).toBeGreaterThan(sequence);
    await host.leave();
  },
);

test('journals and their folder are for this user alone', async () => {
  const folder = join(await makeTempFolder(), 'journals');
  const host = hostOn(folder);
  const opened = await host.openDrill(setupOf());
  if (!opened.ok) throw new Error(opened.message);
  const modes = [folder, join(folder, opened.value.fileName)].map(
    async (path) => (await stat(path)).mode & 0o777,
  );
  expect(await Promise.all(modes)).toEqual([0o700, 0o600]);
  await host.leave();
});

test('a second station on the same folder is turned away until the first has left', async () => {
  const folder = join(await makeTempFolder(), 'data');
  await mkdir(folder);
  const first = await takeStationLock(folder);
  expect(first).not.toBe(null);
  expect(await takeStationLock(folder)).toBe(null);
  await first?.release();
  const second = await takeStationLock(folder);
  expect(second).not.toBe(null);
  await second?.release();
});

test('a station that was killed does not keep the next one out', async () => {
  const folder = await makeTempFolder();
  const path = join(folder, 'station.sock');
  const script = `require('node:net').createServer().listen(${JSON.stringify(path)}, () => process.kill(process.pid, 'SIGKILL'))`;
  expect(spawnSync(process.execPath, ['-e', script]).signal).toBe('SIGKILL');
  expect((await stat(path)).isSocket()).toBe(true);
  const lock = await takeStationLock(folder);
  expect(lock).not.toBe(null);
  await lock?.release();
});
