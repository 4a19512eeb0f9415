import { spawn, spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, isAbsolute, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { DESKTOP_WORDS } from '../machines/words/desktop.ts';
import { type BrowserShell, openBrowserShell } from './browser-shell.ts';
import {
  DOWNLOAD_LIMIT_MS,
  DownloadMemory,
  downloadElectron,
  findElectronPackage,
  findElectronRuntime,
} from './electron-shell.ts';
import { dataFolder } from './folders.ts';
import { makeHandlers } from './handlers.ts';
import { type Loopback, startLoopback } from './loopback.ts';
import { ALREADY_OPEN_STATUS, browserPlaces, chooseShell, hasDisplay, type ShellFacts } from './shells.ts';
import { openStation, PAGE_FOLDER } from './station.ts';

/** `npm start`: opens the station in the first shell that works. What to try is decided in shells.ts. */

const PROJECT = fileURLToPath(new URL('../../', import.meta.url));
const folder = resolve(dataFolder({ platform: process.platform, home: homedir(), env: process.env }));
const isRoot = process.getuid?.() === 0;
const say = (words: string) => console.log(words);
/** A shell that ends with an error this soon did not start at all (our choice). */
const STARTED_AFTER_MS = 15_000;
/** A window that is gone for this long does not come back: a reload takes less (our choice). */
const GONE_AFTER_MS = 5000;

const stopped = new AbortController();
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => stopped.abort());
process.exitCode = await start().catch(sayCannotStart);

async function start(): Promise<number> {
  const electronPackage = findElectronPackage();
  const memory = new DownloadMemory(folder);
  const facts: ShellFacts = {
    platform: process.platform,
    isRoot,
    hasDisplay: hasDisplay(process.platform, process.env),
    electron: await lookForElectron(electronPackage, memory),
    browser: findBrowser(),
    apt: existsSync('/usr/bin/apt-get') ? 'untried' : 'absent',
  };
  while (!stopped.signal.aborted) {
    const step = chooseShell(facts);
    switch (step.kind) {
      case 'download-electron': {
        say('Fetching Electron’s runtime, once …');
        const isThere =
          electronPackage !== null && (await downloadElectron(electronPackage, DOWNLOAD_LIMIT_MS));
        // A folder that cannot be written is told of when the station opens it.
        await memory.note(!isThere).catch(() => undefined);
        facts.electron = isThere ? 'ready' : 'failed';
        if (!isThere) say('It is not to be had; looking for an installed browser.');
        break;
      }
      case 'electron': {
        const status = await runElectron(electronPackage);
        if (status !== 'did not start') return status;
        say('Electron does not start on this computer; looking for an installed browser.');
        facts.electron = 'failed';
        break;
      }
      case 'install-chromium':
        say('Neither Electron nor a browser is here. Installing Debian’s chromium with apt-get, as root …');
        facts.apt = installChromium() ? 'untried' : 'failed';
        facts.browser = findBrowser();
        if (facts.browser === null) facts.apt = 'failed';
        break;
      case 'browser':
        return await serve(step.command);
      case 'serve':
        say(
          'There is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set): serving the page without a window.',
        );
        return await serve(null);
      case 'explain':
        for (const words of step.words) console.error(words);
        return 1;
    }
  }
  return 0;
}

async function lookForElectron(
  packageFolder: string | null,
  memory: DownloadMemory,
): Promise<ShellFacts['electron']> {
  if (packageFolder === null) return 'failed';
  if (findElectronRuntime(packageFolder) !== null) return 'ready';
  return (await memory.isRecent(Date.now())) ? 'failed' : 'untried';
}

async function runElectron(packageFolder: string | null): Promise<number | 'did not start'> {
  const runtime = packageFolder === null ? null : findElectronRuntime(packageFolder);
  if (runtime === null) return 'did not start';
  if (isRoot) sayNoSandbox('Electron');
  const startedMs = Date.now();
  const child = spawn(runtime, [PROJECT, ...(isRoot ? ['--no-sandbox'] : [])], { stdio: 'inherit' });
  stopped.signal.addEventListener('abort', () => child.kill('SIGTERM'));
  const status = await new Promise<number | null>((resolve) => {
    child.once('exit', (code) => resolve(code));
    child.once('error', () => resolve(1));
  });
  if (status === ALREADY_OPEN_STATUS) return sayAlreadyOpen();
  const isEnd = status === 0 || stopped.signal.aborted || Date.now() - startedMs > STARTED_AFTER_MS;
  return isEnd ? (stopped.signal.aborted ? 0 : (status ?? 1)) : 'did not start';
}

/** Serves the page, in a browser's window if there is one, until the window is closed or the program is told to end. */
async function serve(browser: string | null): Promise<number> {
  const station = await openStation('browser');
  if (station === null) return sayAlreadyOpen();
  const { host, ledger, settings, plans, standards, classes, facts } = station;
  const gone = watchWindows();
  const loopback = await startLoopback({
    pageFolder: PAGE_FOLDER,
    handlersFor: (isAllowed) =>
      makeHandlers({
        isAllowed,
        host,
        ledger,
        settings,
        plans,
        standards,
        classes,
        facts,
        report: (error) => console.error(error),
      }),
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    windows: host,
    onWindows: gone.onWindows,
  });
  let window: BrowserShell | null = null;
  let status = 0;
  try {
    window = browser === null ? null : await openWindow(browser, loopback, station.dataFolder);
    say(`Journals are kept in ${facts.journalFolder}`);
    if (window === null)
      say(`Open ${loopback.address}\nThe address is a key: do not pass it on. Ctrl-C ends.`);
    else say('The station is open. Closing its window or Ctrl-C ends it.');
    const ends = [untilStopped(), ...(window === null ? [] : [window.ended, gone.forGood])];
    const ended = await Promise.race(ends);
    if (typeof ended === 'number' && !stopped.signal.aborted) status = ended;
    if (status !== 0) console.error(`${browser} ended with status ${status}.`);
  } finally {
    await window?.end();
    await loopback.close();
    await station.leave();
  }
  return status;
}

async function openWindow(command: string, loopback: Loopback, parent: string): Promise<BrowserShell> {
  if (isRoot) sayNoSandbox(command);
  return await openBrowserShell({ command, address: loopback.address, isRoot, dataFolder: parent });
}

/** On a Mac a browser goes on without windows: there the last window's silence is the end. */
function watchWindows(): { onWindows: (count: number) => void; forGood: Promise<void> } {
  let timer: NodeJS.Timeout | undefined;
  let onWindows = (_count: number): void => undefined;
  const forGood = new Promise<void>((resolve) => {
    onWindows = (count) => {
      clearTimeout(timer);
      if (count === 0 && process.platform === 'darwin') timer = setTimeout(resolve, GONE_AFTER_MS);
    };
  });
  return { onWindows: (count) => onWindows(count), forGood };
}

function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    if (stopped.signal.aborted) resolve();
    stopped.signal.addEventListener('abort', () => resolve());
  });
}

function findBrowser(): string | null {
  const folders = (process.env.PATH ?? '').split(delimiter).filter((one) => one !== '');
  for (const place of browserPlaces(process.platform, process.env)) {
    const paths = isAbsolute(place) ? [place] : folders.map((one) => join(one, place));
    const found = paths.find(isExecutable);
    if (found !== undefined) return found;
  }
  return null;
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function installChromium(): boolean {
  const run = (...words: string[]) =>
    spawnSync('apt-get', words, {
      stdio: 'inherit',
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    }).status === 0;
  return run('update') && run('install', '-y', '--no-install-recommends', 'chromium');
}

function sayNoSandbox(name: string): void {
  say(`You are root, so ${name} is started with --no-sandbox; as another user it keeps its sandbox.`);
}

function sayCannotStart(error: unknown): number {
  const reason = error instanceof Error ? error.message : String(error);
  console.error(
    `${DESKTOP_WORDS.cannotStart}: ${reason}\nIts folder is ${folder}; ANTIPHON_FOLDER names another.`,
  );
  return 1;
}

function sayAlreadyOpen(): number {
  console.error(`Antiphon is open already for ${folder}. Close that window first.`);
  return ALREADY_OPEN_STATUS;
}
