import { spawn } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';

const PROJECT = join(import.meta.dirname, '../..');
/** The builder's own parts are asked for where the builder finds them: no others are installed. */
const fromBuilder = createRequire(
  createRequire(
    createRequire(join(PROJECT, 'package.json')).resolve('electron-builder/package.json'),
  ).resolve('app-builder-lib/package.json'),
);

type Asar = {
  listPackage(archive: string, options: { isPack: boolean }): string[];
  extractAll(archive: string, folder: string): void;
};
type Fuses = {
  getCurrentFuseWire(executable: string): Promise<Record<string, unknown>>;
  FuseV1Options: Record<string, string | number>;
};
type Config = {
  validateConfiguration(config: unknown, log: { isEnabled: boolean; add(): void }): Promise<void>;
};

export const asar = fromBuilder('@electron/asar') as Asar;
const fuses = fromBuilder('@electron/fuses') as Fuses;
const builderConfig = fromBuilder('./out/util/config/config.js') as Config;

/** Rejects, naming the key, where the builder does not know a key of the configuration or what it says. */
export async function validateBuilderConfig(config: unknown): Promise<void> {
  await builderConfig.validateConfiguration(config, { isEnabled: false, add: () => undefined });
}

/** On is "1" and off is "0" in the runtime's own row of fuses. */
export async function readFuses(executable: string): Promise<Record<string, boolean>> {
  const wire = await fuses.getCurrentFuseWire(executable);
  const names = Object.entries(fuses.FuseV1Options).filter(([name]) => Number.isNaN(Number(name)));
  return Object.fromEntries(names.map(([name, place]) => [name, Number(wire[place]) === '1'.charCodeAt(0)]));
}

/**
 * Packs the built app for Linux into the folder, around a stand-in of Electron's runtime; what was packed. A build that tries to
 * reach anything is ended.
 */
export async function packWithStandIn(folder: string): Promise<string> {
  const standIn = join(folder, 'runtime');
  await makeStandIn(standIn);
  const config = join(folder, 'builder.json');
  const output = join(folder, 'out');
  const changes = { extends: './electron-builder.json', electronDist: standIn, directories: { output } };
  await writeFile(config, JSON.stringify(changes));
  const words = ['--linux', 'dir', '--x64', '--publish', 'never', '--config', config];
  const { status, log } = await runBuilder(words, folder);
  if (status !== 0) throw new Error(`the builder ended with ${status}:\n${log}`);
  return join(output, 'linux-unpacked');
}

/** What the builder takes for an unpacked runtime. Its executable does nothing, and has a row of fuses, each the wrong way round. */
async function makeStandIn(folder: string): Promise<void> {
  await mkdir(join(folder, 'resources'), { recursive: true });
  await mkdir(join(folder, 'locales'));
  // The mark that the runtime has before its fuses, then the row's version, its length and the fuses (from @electron/fuses).
  const row = Buffer.concat([
    Buffer.from('dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX'),
    Buffer.from([1, 8]),
    Buffer.from('10110011'),
  ]);
  const script = Buffer.from('#!/bin/sh\necho "a stand-in, not Electron" >&2\nexit 1\n');
  await writeFile(join(folder, 'electron'), Buffer.concat([script, row]), { mode: 0o755 });
  const electron = createRequire(join(PROJECT, 'package.json'))('electron/package.json') as {
    version: string;
  };
  await writeFile(join(folder, 'version'), electron.version);
  for (const name of ['LICENSE', 'LICENSES.chromium.html']) await writeFile(join(folder, name), 'a stand-in');
  for (const name of ['en-US', 'en-GB', 'fr']) await writeFile(join(folder, 'locales', `${name}.pak`), '');
}

/** Any connection but one to another process of this computer ends the program that tries it. */
const NO_NETWORK = `data:text/javascript,${encodeURIComponent(`
  import net from 'node:net';
  const connect = net.Socket.prototype.connect;
  net.Socket.prototype.connect = function (...words) {
    const [to] = words.flat();
    if (to?.path === undefined) { console.error('a connection was tried:', to); process.exit(9); }
    return connect.apply(this, words);
  };
`)}`;

function runBuilder(
  words: readonly string[],
  folder: string,
): Promise<{ status: number | null; log: string }> {
  const nowhere = 'http://127.0.0.1:9/';
  const env = {
    ...process.env,
    NODE_OPTIONS: `--import=${NO_NETWORK}`,
    NO_UPDATE_NOTIFIER: '1',
    ELECTRON_BUILDER_CACHE: join(folder, 'cache'),
    ELECTRON_CACHE: join(folder, 'cache'),
    ELECTRON_MIRROR: nowhere,
    ELECTRON_BUILDER_BINARIES_MIRROR: nowhere,
    HTTP_PROXY: nowhere,
    HTTPS_PROXY: nowhere,
    npm_config_offline: 'true',
  };
  const builder = spawn(process.execPath, [join(PROJECT, 'node_modules/electron-builder/cli.js'), ...words], {
    cwd: PROJECT,
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let log = '';
  for (const stream of [builder.stdout, builder.stderr])
    stream.setEncoding('utf8').on('data', (part: string) => {
      log += part;
    });
  return new Promise((resolve, reject) => {
    builder.once('error', reject);
    builder.once('close', (status) => resolve({ status, log }));
  });
}
