import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { answerPage } from '../../electron/app-protocol.ts';

export type CountBrowser = {
  /** A page with the player on it; `rate` is its audio context's, the browser's own if not given. */
  open: (options?: {
    rate?: number;
    isSoundLoaded?: boolean;
    /** The page loads and starts a count by itself, with no gesture. */
    isAlone?: boolean;
    prepare?: (page: Page) => Promise<unknown>;
  }) => Promise<Page>;
  close: () => Promise<void>;
};

/** The player's own page, built as the window is and served under the window's headers, in an installed Chromium. */
export async function startCountBrowser(options: { needsGesture?: boolean } = {}): Promise<CountBrowser> {
  const pageFolder = await mkdtemp(join(tmpdir(), 'antiphon-count-'));
  await build({
    root: `${import.meta.dirname}/count-page`,
    base: './',
    logLevel: 'warn',
    build: {
      outDir: pageFolder,
      emptyOutDir: true,
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
    },
  });
  const server = await serve(pageFolder);
  const { port } = server.address() as AddressInfo;
  const browser = await startChromium(options.needsGesture ?? false);
  return {
    open: async ({ rate, isSoundLoaded = true, isAlone = false, prepare } = {}) => {
      const page = await (await browser.newContext()).newPage();
      await prepare?.(page);
      const query = [...(rate === undefined ? [] : [`rate=${rate}`]), ...(isAlone ? ['alone'] : [])].join(
        '&',
      );
      await page.goto(`http://127.0.0.1:${port}/index.html?${query}`);
      if (isSoundLoaded) {
        await page.evaluate(async () => {
          await window.countPage.player.load();
          await window.countPage.recording.decode(window.countPage.context());
          await window.countPage.startRecording();
        });
      }
      return page;
    },
    close: async () => {
      await browser.close();
      await new Promise((resolve) => server.close(resolve));
      await rm(pageFolder, { recursive: true, force: true });
    },
  };
}

async function serve(pageFolder: string): Promise<Server> {
  const server = createServer((request, response) => {
    const { pathname } = new URL(request.url ?? '/', 'http://127.0.0.1');
    void answerPage(pageFolder, pathname).then(({ status, headers, body }) => {
      response.writeHead(status, headers).end(body);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return server;
}

function startChromium(needsGesture: boolean): Promise<Browser> {
  const policy = needsGesture ? 'document-user-activation-required' : 'no-user-gesture-required';
  return chromium.launch({
    executablePath: process.env.ANTIPHON_CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      `--autoplay-policy=${policy}`,
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    ],
  });
}
