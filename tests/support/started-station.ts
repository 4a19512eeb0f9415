import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { FIRST_SETTINGS } from '../../electron/contract.ts';
import { SettingsStore } from '../../electron/settings-store.ts';
import type { HostMemory } from './tell-memory.ts';

export type StartedStation = {
  address: string;
  /** What the host's process has after a collection of its garbage. */
  memory(): Promise<HostMemory>;
  end(): Promise<void>;
};

const PROGRAM = resolve('dist/electron/start.js');
const TELL_MEMORY = resolve('dist/tests/support/tell-memory.js');

/**
 * `npm start`'s own program in a process of its own, without a display: it serves the page and says where. Needs a build. Its cautions have
 * been read. `words` are Node's own.
 */
export async function startStation(
  dataFolder: string,
  words: readonly string[] = [],
): Promise<StartedStation> {
  for (const path of [PROGRAM, TELL_MEMORY])
    if (!existsSync(path)) throw new Error(`${path} is not built: run “npm run build” first`);
  const settings = new SettingsStore(join(dataFolder, 'settings.json'));
  await settings.save({ ...FIRST_SETTINGS, cautionsReadAt: '2026-03-02T09:00:00.000Z' });
  const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...env } = process.env;
  const child = spawn(process.execPath, [...words, '--expose-gc', '--import', TELL_MEMORY, PROGRAM], {
    env: { ...env, ANTIPHON_FOLDER: dataFolder },
    stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
  });
  const ended = once(child, 'exit');
  const { stdout } = child;
  if (stdout === null) throw new Error('the station has no output');
  for await (const line of createInterface(stdout)) {
    const address = /http:\S+/.exec(line)?.[0];
    if (address === undefined) continue;
    stdout.resume();
    return {
      address,
      memory: async () => {
        child.send('memory');
        const [said] = await once(child, 'message');
        return said as HostMemory;
      },
      end: async () => {
        child.kill('SIGTERM');
        await ended;
      },
    };
  }
  throw new Error('the station ended without saying where it is');
}
