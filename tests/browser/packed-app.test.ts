import { execFileSync, spawnSync } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { homedir, tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest';
import { CHANNELS } from '../../electron/contract.ts';
import { launchChromium } from '../support/chromium.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { asar, packWithStandIn, readFuses, validateBuilderConfig } from '../support/packed-app.ts';
import { serveStation } from '../support/served-station.ts';

/**
 * The packed app, built with a stand-in of Electron's runtime: no runtime is downloaded, and nothing of Electron runs. What is
 * tried is the archive, and the window in it over the loopback host in Chromium.
 */
const PROJECT = join(import.meta.dirname, '../..');
const MEGABYTE = 1_000_000;
let folder: string;
let app: string;
let inside: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'antiphon-packed-'));
  app = await packWithStandIn(folder);
  inside = join(folder, 'inside');
  asar.extractAll(join(app, 'resources/app.asar'), inside);
}, 120_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

async function filesIn(within: string): Promise<string[]> {
  const entries = await readdir(within, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile());
  return files.map((entry) => join(entry.parentPath, entry.name).slice(within.length + 1)).sort();
}

async function readJson(path: string): Promise<Record<string, unknown>> {
  return JSON.parse(await readFile(path, 'utf8')) as Record<string, unknown>;
}

test('the archive holds the two scripts, the built page, its licence and what says which app it is, and nothing else', async () => {
  const page = await filesIn(join(PROJECT, 'dist/renderer'));
  expect(page.length).toBeGreaterThan(10);
  const expected = ['LICENSE', 'dist/app/main.js', 'dist/app/preload.cjs', 'package.json'];
  expect(await filesIn(inside)).toEqual([...expected, ...page.map((name) => `dist/renderer/${name}`)].sort());
  expect(await filesIn(app)).toEqual([
    'LICENSE.electron.txt',
    'LICENSES.chromium.html',
    'antiphon',
    'locales/en-GB.pak',
    'locales/en-US.pak',
    'resources/THIRD-PARTY-LICENCES.txt',
    'resources/app.asar',
    'version',
  ]);
});

test('nothing in it is a test, a source map, or says where or by whom it was built', async () => {
  const names = await filesIn(inside);
  expect(names.filter((name) => /\.(map|ts|tsx)$|test|node_modules/.test(name))).toEqual([]);
  const name = userInfo().username;
  const strange = new RegExp(
    `sourceMappingURL|vitest|/home/|/Users/|[A-Z]:\\\\\\\\Users|${homedir()}/|${PROJECT}${name === 'root' ? '' : `|\\b${name}\\b`}`,
  );
  const found: string[] = [];
  for (const file of names) {
    const hit = strange.exec(await readFile(join(inside, file), 'latin1'));
    if (hit !== null) found.push(`${file}: ${hit[0]}`);
  }
  expect(found).toEqual([]);
});

test('it is small, and its main script needs Node and Electron alone', async () => {
  expect((await stat(join(app, 'resources/app.asar'))).size).toBeLessThan(2.5 * MEGABYTE);
  const main = await readFile(join(inside, 'dist/app/main.js'), 'utf8');
  const needed = [
    ...main.matchAll(/^import .*from "([^"]+)";$|\bimport\("([^"]+)"\)|\brequire\("([^"]+)"\)/gm),
  ];
  const names = needed.map(([, one, other, third]) => one ?? other ?? third ?? '');
  expect(names).toContain('electron');
  expect(names.filter((name) => name !== 'electron' && !name.startsWith('node:'))).toEqual([]);
  execFileSync(process.execPath, ['--check', join(inside, 'dist/app/main.js')]);
});

test('what says which app it is starts the main script, and has no scripts and no tools', async () => {
  const ours = await readJson(join(PROJECT, 'package.json'));
  const packed = await readJson(join(inside, 'package.json'));
  expect(packed).toMatchObject({
    name: 'antiphon',
    productName: 'Antiphon',
    version: ours.version,
    type: 'module',
  });
  expect(packed.main).toBe('dist/app/main.js');
  expect([packed.scripts, packed.devDependencies]).toEqual([undefined, undefined]);
});

test('the licences of all that the window and the main script are made from lie beside it', async () => {
  const text = await readFile(join(app, 'resources/THIRD-PARTY-LICENCES.txt'), 'utf8');
  const { dependencies } = (await readJson(join(PROJECT, 'package.json'))) as {
    dependencies: Record<string, string>;
  };
  expect(Object.keys(dependencies).length).toBeGreaterThan(5);
  for (const [name, version] of Object.entries(dependencies)) expect(text).toContain(`${name} ${version} (`);
  // One that only another of them needs.
  expect(text).toMatch(/^scheduler \d+\.\d+\.\d+ \(MIT\)$/m);
});

test('the fuses are set', async () => {
  expect(await readFuses(join(app, 'antiphon'))).toEqual({
    RunAsNode: false,
    EnableCookieEncryption: true,
    EnableNodeOptionsEnvironmentVariable: false,
    EnableNodeCliInspectArguments: false,
    EnableEmbeddedAsarIntegrityValidation: true,
    OnlyLoadAppFromAsar: true,
    LoadBrowserProcessSpecificV8Snapshot: false,
    GrantFileProtocolExtraPrivileges: false,
  });
});

test('the builder’s own schema takes the configuration, and no misspelt one', async () => {
  const config = await readJson(join(PROJECT, 'electron-builder.json'));
  await validateBuilderConfig(config);
  await expect(validateBuilderConfig({ ...config, electronFuzes: {} })).rejects.toThrow('electronFuzes');
  const nsis = { ...(config.nsis as object), perMachin: true };
  await expect(validateBuilderConfig({ ...config, nsis })).rejects.toThrow('configuration.nsis');
  const targets = ['linux', 'win', 'mac'].map((system) => (config[system] as { target: string[] }).target);
  expect(targets).toEqual([['AppImage', 'deb'], ['nsis', 'portable'], ['dmg']]);
  for (const system of ['linux', 'win', 'mac'])
    await stat(join(PROJECT, (config[system] as { icon: string }).icon));
});

/** Runs the packed main script in a process of its own, on a stand-in of the module `electron`; what that was asked for. */
async function runMain(env: Record<string, string>): Promise<unknown[][]> {
  const module = join(folder, 'node_modules/electron');
  await mkdir(module, { recursive: true });
  await copyFile(join(PROJECT, 'tests/support/stand-in-electron.mjs'), join(module, 'index.mjs'));
  await writeFile(join(module, 'package.json'), '{"name":"electron","exports":"./index.mjs"}');
  const { stdout } = spawnSync(process.execPath, [join(inside, 'dist/app/main.js')], {
    env: { ...process.env, ...env },
    encoding: 'utf8',
    timeout: 20_000,
  });
  return stdout.split('\n').flatMap((line) => (line === '' ? [] : [JSON.parse(line) as unknown[]]));
}

test('the packed main script, on a stand-in of Electron, locks down, opens one window, remembers its place and leaves', async () => {
  const data = join(folder, 'data');
  const asked = await runMain({ ANTIPHON_FOLDER: data });
  expect(asked).toEqual([
    ['setPath', 'userData', join(data, 'electron')],
    ['schemes', 'antiphon-app'],
    ['enableSandbox'],
    ['ready'],
    ...['requests', 'checks', 'devices', 'display', 'network'].map((what) => ['locked', what]),
    ...CHANNELS.map((channel) => ['handle', channel]),
    ['menu', 5 + (process.platform === 'darwin' ? 1 : 0)],
    ['window', { sandbox: true, contextIsolation: true, nodeIntegration: false, webSecurity: true }],
    ['window open', { action: 'deny' }],
    ['page', 'antiphon-app://station/', 200, true],
    ['exit', 0],
  ]);
  expect(await readJson(join(data, 'places.json'))).toEqual({
    version: 1,
    places: { instructor: { x: 1, y: 2, width: 800, height: 600, isMaximized: false } },
  });
});

test('a second start of it leaves to the first, and one without a folder says so in a box', async () => {
  const second = await runMain({ ANTIPHON_FOLDER: join(folder, 'data'), STAND_IN_IS_SECOND: '1' });
  expect(second.at(-1)).toEqual(['exit', 4]);
  expect(second.flat()).not.toContain('ready');
  await writeFile(join(folder, 'a-file'), '');
  const blocked = await runMain({ ANTIPHON_FOLDER: join(folder, 'a-file', 'data') });
  expect(blocked.slice(-2)).toEqual([
    ['error', 'Antiphon cannot start', expect.stringContaining('ENOTDIR')],
    ['exit', 1],
  ]);
});

test('the window in the archive runs a drill in Chromium, with no word of complaint', async () => {
  const station = await serveStation(join(inside, 'dist/renderer'));
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  const problems: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') problems.push(message.text());
  });
  page.on('pageerror', (error) => problems.push(error.message));
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  const keys = await KeyPlayer.attach(page);
  for (const code of ['Digit1', 'KeyX', 'KeyX', 'KeyX', 'Period', 'KeyX', 'Digit9']) await keys.tap(code);
  await page.getByRole('button', { name: 'Close and debrief' }).waitFor();
  await keys.tap('Enter');
  await page.getByText('Ask them first').waitFor();
  const { journal } = await station.readOnlyJournal();
  expect(journal.lines.filter(({ line }) => line.kind === 'edge')).toHaveLength(10);
  expect([journal.isClosed, problems, station.mistakes]).toEqual([true, [], []]);
});
