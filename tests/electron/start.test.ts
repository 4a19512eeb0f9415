import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, onTestFinished, test } from 'vitest';
import { makeTempFolder } from '../support/folder-for-test.ts';

const PROGRAM = join(import.meta.dirname, '../../dist/electron/start.js');

type Started = {
  child: ChildProcess;
  next: (pattern: RegExp) => Promise<string>;
  ended: Promise<number | null>;
};

/** Starts the built station without a display. */
function start(folder: string): Started {
  if (!existsSync(PROGRAM)) throw new Error('the station is not built: run “npm run build” first');
  const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...env } = process.env;
  const child = spawn(process.execPath, [PROGRAM], {
    env: { ...env, ANTIPHON_FOLDER: folder },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const lines = createInterface(child.stdout)[Symbol.asyncIterator]();
  const next = async (pattern: RegExp) => {
    for (;;) {
      const { done, value } = await lines.next();
      if (done) throw new Error(`the station ended without saying ${pattern}`);
      const found = pattern.exec(value);
      if (found !== null) return found[1] ?? found[0];
    }
  };
  return { child, next, ended };
}

test.skipIf(process.platform !== 'linux').each(['SIGINT', 'SIGTERM'] as const)(
  'without a display the page is served and its address printed, until %s',
  async (signal) => {
    const folder = await makeTempFolder();
    const station = start(folder);
    expect(await station.next(/no display/)).toBe('no display');
    expect(await station.next(/kept in (.*)$/)).toBe(join(folder, 'journals'));
    const address = new URL(await station.next(/(http:\S+)/));
    const asked = await fetch(`${address.origin}/request/drill:list`, {
      method: 'POST',
      headers: {
        origin: address.origin,
        'x-antiphon-secret': address.hash.slice(1),
        'content-type': 'application/json',
      },
      body: 'null',
    });
    expect(await asked.json()).toEqual({ ok: true, value: [] });
    const second = start(folder);
    expect(await second.ended).toBe(4);
    station.child.kill(signal);
    expect(await station.ended).toBe(0);
    expect(await readdir(folder)).toEqual(['journals']);
  },
);

test.skipIf(process.platform !== 'linux')(
  'a folder that cannot be made is said in words, and no trace of ours',
  async () => {
    const file = join(await makeTempFolder(), 'a-file');
    await writeFile(file, '');
    const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...env } = process.env;
    const { status, stderr } = spawnSync(process.execPath, [PROGRAM], {
      env: { ...env, ANTIPHON_FOLDER: join(file, 'data') },
      encoding: 'utf8',
      timeout: 20_000,
    });
    expect(stderr).toBe(
      `Antiphon cannot start: ENOTDIR: not a directory, mkdir '${join(file, 'data', 'journals')}'\nIts folder is ${join(file, 'data')}; ANTIPHON_FOLDER names another.\n`,
    );
    expect(status).toBe(1);
  },
);
