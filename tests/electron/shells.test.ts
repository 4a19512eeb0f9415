import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import {
  browserArguments,
  makeShellFolder,
  shellFolderParent,
  writeLauncher,
} from '../../electron/browser-shell.ts';
import { DownloadMemory, downloadElectron, findElectronRuntime } from '../../electron/electron-shell.ts';
import { dataFolder } from '../../electron/folders.ts';
import { browserPlaces, chooseShell, hasDisplay, type ShellFacts } from '../../electron/shells.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';

const bare: ShellFacts = {
  platform: 'linux',
  isRoot: false,
  hasDisplay: true,
  electron: 'failed',
  browser: null,
  apt: 'untried',
};

test.each<[string, Partial<ShellFacts>, string]>([
  [
    'without a display the page is served',
    { hasDisplay: false, electron: 'ready', browser: '/usr/bin/chromium' },
    'serve',
  ],
  ['without a display nothing is installed', { hasDisplay: false, isRoot: true }, 'serve'],
  ['Electron comes first', { electron: 'ready', browser: '/usr/bin/chromium' }, 'electron'],
  [
    'Electron is fetched before a browser is taken',
    { electron: 'untried', browser: '/usr/bin/chromium' },
    'download-electron',
  ],
  ['a browser is taken when Electron is not to be had', { browser: '/usr/bin/chromium' }, 'browser'],
  ['root on Debian installs Chromium', { isRoot: true }, 'install-chromium'],
  ['root whose apt-get failed is told', { isRoot: true, apt: 'failed' }, 'explain'],
  ['root elsewhere is told', { isRoot: true, apt: 'absent' }, 'explain'],
  ['others are told', {}, 'explain'],
  ['on Windows one is told', { platform: 'win32' }, 'explain'],
  ['on a Mac even root is told', { platform: 'darwin', isRoot: true }, 'explain'],
])('%s', (_what, changes, kind) => {
  expect(chooseShell({ ...bare, ...changes }).kind).toBe(kind);
});

test.each<[string, Partial<ShellFacts>, string]>([
  ['Debian', {}, 'sudo apt-get install --no-install-recommends chromium'],
  ['Fedora', { apt: 'absent' }, 'dnf install chromium'],
  ['Windows', { platform: 'win32' }, 'winget install Microsoft.Edge'],
  ['a Mac', { platform: 'darwin' }, 'https://www.google.com/chrome/'],
])('on %s it is said what to install', (_where, changes, words) => {
  const step = chooseShell({ ...bare, ...changes });
  expect(step.kind === 'explain' && step.words.join('\n')).toContain(words);
});

test('every failure leads on to another step, and none goes round in a circle', () => {
  const facts: ShellFacts = { ...bare, isRoot: true, electron: 'untried' };
  const kinds: string[] = [];
  for (let step = chooseShell(facts); ; step = chooseShell(facts)) {
    kinds.push(step.kind);
    if (step.kind === 'explain') break;
    if (step.kind === 'install-chromium') facts.apt = 'failed';
    else facts.electron = 'failed';
  }
  expect(kinds).toEqual(['download-electron', 'install-chromium', 'explain']);
});

test.each<[NodeJS.Platform, Record<string, string>, boolean]>([
  ['linux', {}, false],
  ['linux', { DISPLAY: '' }, false],
  ['linux', { DISPLAY: ':0' }, true],
  ['linux', { WAYLAND_DISPLAY: 'wayland-0' }, true],
  ['win32', {}, true],
  ['darwin', {}, true],
])('a display on %s with %j: %s', (platform, env, expected) => {
  expect(hasDisplay(platform, env)).toBe(expected);
});

test('browsers are looked for where each platform has them', () => {
  expect(browserPlaces('linux', {})[0]).toBe('chromium');
  expect(browserPlaces('darwin', { HOME: '/Users/ada' })).toContain(
    '/Users/ada/Applications/Chromium.app/Contents/MacOS/Chromium',
  );
  expect(browserPlaces('win32', { ProgramFiles: 'C:\\Program Files' })).toEqual([
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files\\Chromium\\Application\\chrome.exe',
    'C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe',
  ]);
});

test.each<[NodeJS.Platform, Record<string, string>, string]>([
  ['linux', {}, '/home/ada/.local/share/antiphon'],
  ['linux', { XDG_DATA_HOME: '/data' }, '/data/antiphon'],
  ['linux', { ANTIPHON_FOLDER: '/lab', XDG_DATA_HOME: '/data' }, '/lab'],
  ['darwin', {}, '/home/ada/Library/Application Support/Antiphon'],
  ['win32', { LOCALAPPDATA: 'C:\\Users\\ada\\AppData\\Local' }, 'C:\\Users\\ada\\AppData\\Local\\Antiphon'],
])('on %s with %j journals are kept below %s', (platform, env, expected) => {
  expect(dataFolder({ platform, env, home: '/home/ada' })).toBe(expected);
});

test('the secret is in a page that only this user can read, and not among the browser’s words of call', async () => {
  const folder = await makeShellFolder(await makeTempFolder());
  const launcher = await writeLauncher(folder, 'http://127.0.0.1:1/#s3cret');
  expect([(await stat(folder)).mode & 0o777, (await stat(launcher)).mode & 0o777]).toEqual([0o700, 0o600]);
  expect(await readFile(launcher, 'utf8')).toContain('location.replace("http://127.0.0.1:1/#s3cret")');
  const words = browserArguments({ launcher, profile: join(folder, 'profile'), isRoot: false });
  expect(words.join(' ')).not.toContain('s3cret');
  expect(words).toContain(`--user-data-dir=${join(folder, 'profile')}`);
  expect(words).not.toContain('--no-sandbox');
});

test('only root’s browser goes without its sandbox', () => {
  expect(browserArguments({ launcher: '/a', profile: '/b', isRoot: true })).toContain('--no-sandbox');
});

test('a browser from a snap gets a folder that it can see', () => {
  expect(shellFolderParent('/snap/bin/chromium', '/home/ada/.local/share/antiphon', '/home/ada')).toBe(
    '/home/ada/snap/chromium/common',
  );
  expect(shellFolderParent('/usr/bin/chromium', '/data', '/home/ada')).toBe('/data');
});

test('a download that failed is not tried again the same day', async () => {
  const memory = new DownloadMemory(join(await makeTempFolder(), 'new'));
  expect(await memory.isRecent(Date.now())).toBe(false);
  await memory.note(true);
  expect(await memory.isRecent(Date.now())).toBe(true);
  expect(await memory.isRecent(Date.now() + 25 * 60 * 60 * 1000)).toBe(false);
  await memory.note(false);
  expect(await memory.isRecent(Date.now())).toBe(false);
});

test('a package without its runtime is not taken for Electron, nor is an installer that fails', async () => {
  const folder = await makeTempFolder();
  expect(findElectronRuntime(folder)).toBe(null);
  expect(await downloadElectron(folder, 20_000)).toBe(false);
});
