import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

export type BrowserShell = {
  /** Resolves when the browser has ended: with its status, or null after a signal. */
  ended: Promise<number | null>;
  /** Ends the browser if it still runs, and takes away its folder. */
  end(): Promise<void>;
};

/** How long a browser may take to end by itself (tool default). */
const END_WITHIN_MS = 3000;
const FOLDER_PREFIX = 'window-';

/** Opens the address as an app window of an installed browser, with an empty profile of its own. Rejects when it cannot be run. */
export async function openBrowserShell(parts: {
  command: string;
  address: string;
  isRoot: boolean;
  dataFolder: string;
}): Promise<BrowserShell> {
  await removeLeftovers(parts.dataFolder);
  const folder = await makeShellFolder(shellFolderParent(parts.command, parts.dataFolder, homedir()));
  const launcher = await writeLauncher(folder, parts.address);
  const child = spawn(
    parts.command,
    browserArguments({ launcher, profile: join(folder, 'profile'), isRoot: parts.isRoot }),
    { stdio: 'ignore' },
  );
  const ended = new Promise<number | null>((resolve) => child.once('exit', (status) => resolve(status)));
  try {
    await new Promise<void>((resolve, reject) => {
      child.once('spawn', resolve);
      child.once('error', reject);
    });
  } catch (error) {
    await rm(folder, { recursive: true, force: true });
    throw error;
  }
  return {
    ended,
    end: async () => {
      child.kill('SIGTERM');
      const impatience = setTimeout(() => child.kill('SIGKILL'), END_WITHIN_MS);
      await ended;
      clearTimeout(impatience);
      // A browser's helpers may write for a moment longer.
      await rm(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 }).catch(
        () => undefined,
      );
    },
  };
}

/** The browser's words of call. The secret is not among them: other users of the computer can read them. */
export function browserArguments(parts: {
  launcher: string;
  profile: string;
  isRoot: boolean;
}): readonly string[] {
  return [
    `--app=${pathToFileURL(parts.launcher).href}`,
    `--user-data-dir=${parts.profile}`,
    '--no-first-run',
    '--no-default-browser-check',
    '--no-pings',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-default-apps',
    '--disable-extensions',
    '--disable-sync',
    '--disable-domain-reliability',
    '--disable-features=Translate,MediaRouter,OptimizationHints',
    '--disable-background-timer-throttling',
    '--disable-backgrounding-occluded-windows',
    '--disable-renderer-backgrounding',
    '--autoplay-policy=no-user-gesture-required',
    '--password-store=basic',
    '--window-size=1280,860',
    ...(parts.isRoot ? ['--no-sandbox'] : []),
  ];
}

/** A Chromium from a snap sees neither hidden folders nor the system's temporary one, only its own. */
export function shellFolderParent(command: string, dataFolder: string, home: string): string {
  return command.startsWith('/snap/') ? join(home, 'snap', 'chromium', 'common') : dataFolder;
}

/** Writes the page that takes the browser to the address; it and its folder are this user's alone. */
export async function writeLauncher(folder: string, address: string): Promise<string> {
  const path = join(folder, 'open.html');
  const script = `location.replace(${JSON.stringify(address)})`;
  const page = `<!doctype html><meta charset="utf-8"><title>Antiphon</title><script>${script}</script>\n`;
  await writeFile(path, page, { mode: 0o600, flag: 'wx' });
  return path;
}

/** A fresh folder that only this user can enter. */
export async function makeShellFolder(parent: string): Promise<string> {
  await mkdir(parent, { recursive: true, mode: 0o700 });
  return await mkdtemp(join(parent, FOLDER_PREFIX));
}

/** Folders of stations that were killed: only one station at a time has the data folder, so none is in use. */
async function removeLeftovers(dataFolder: string): Promise<void> {
  for (const name of await readdir(dataFolder)) {
    if (name.startsWith(FOLDER_PREFIX)) await rm(join(dataFolder, name), { recursive: true, force: true });
  }
}
