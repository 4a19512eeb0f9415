import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where Debian and others put Chromium or a browser of its family. */
const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/microsoft-edge',
];

const QUIET = [
  // A browser started as root cannot make its sandbox; only tests are run so.
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** A headless Chromium of this computer that talks to nobody but the page. */
export async function launchChromium(
  options: { headless?: boolean; display?: string; words?: readonly string[] } = {},
): Promise<Browser> {
  const executablePath = findChromium();
  return await chromium.launch({
    executablePath,
    headless: options.headless ?? true,
    ...(options.display === undefined ? {} : { env: { ...process.env, DISPLAY: options.display } }),
    args: [...QUIET, ...(options.words ?? [])],
  });
}

/** A window of its own with nothing attached to it: what it does is known by its title and by what it saves. */
export function openPlainWindow(address: string, profile: string, display: string): ChildProcess {
  return spawn(
    findChromium(),
    [...QUIET, `--user-data-dir=${profile}`, '--no-default-browser-check', `--app=${address}`],
    { env: { ...process.env, DISPLAY: display }, stdio: 'ignore' },
  );
}

function findChromium(): string {
  const found = process.env.ANTIPHON_CHROMIUM ?? PLACES.find((place) => existsSync(place));
  if (found === undefined) throw new Error(`no Chromium at ${PLACES.join(', ')}`);
  return found;
}
