import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where Debian and others put Chromium or a browser of its family. */
const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/microsoft-edge',
];

/** A headless Chromium of this computer that talks to nobody but the page. */
export async function launchChromium(options: { headless?: boolean } = {}): Promise<Browser> {
  const executablePath = process.env.ANTIPHON_CHROMIUM ?? PLACES.find((place) => existsSync(place));
  if (executablePath === undefined) throw new Error(`no Chromium at ${PLACES.join(', ')}`);
  return await chromium.launch({
    executablePath,
    headless: options.headless ?? true,
    args: [
      // A browser started as root cannot make its sandbox; only tests are run so.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}
