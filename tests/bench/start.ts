import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { nodeDisk } from '../../electron/disk.ts';
import { launchChromium } from '../support/chromium.ts';
import { ledgerOn } from '../support/ledger-station.ts';
import { startStation } from '../support/started-station.ts';
import { fillFolder } from './ledger.ts';

/** Ms of one start. `hostMs`: from starting the program to its address; `pageMs`: from there to the first key in a name field. */
export type Start = { hostMs: number; pageMs: number };
export type Starts = { browserMs: number; fresh: readonly Start[]; full: readonly Start[] };

/** A rehearsal so short is a few cycles: the list and the index cost by the drill, not by its length. */
const SHORT_MINUTES = 0.1;

/**
 * Starts of `npm start`'s own program, without the build that npm makes before it, into a Chromium that is open: with a fresh folder,
 * and with one that has so many drills and their index. Usable is when the window takes what people type: the time of
 * the first `input` event in a name field, from a real key that is pressed as soon as the field has the focus.
 */
export async function starts(runs: number, drills: number): Promise<Starts> {
  const root = await mkdtemp(join(tmpdir(), 'antiphon-start-'));
  const browserFrom = nowMs();
  const browser = await launchChromium();
  try {
    await (await browser.newPage()).close();
    const browserMs = nowMs() - browserFrom;
    const fullFolder = join(root, 'full');
    await fillWithIndex(fullFolder, drills);
    const fresh: Start[] = [];
    const full: Start[] = [];
    for (let run = 0; run < runs; run += 1) {
      fresh.push(await start(browser, join(root, `fresh-${run}`)));
      full.push(await start(browser, fullFolder));
    }
    return { browserMs, fresh, full };
  } finally {
    await browser.close();
    await rm(root, { recursive: true });
  }
}

async function fillWithIndex(dataFolder: string, drills: number): Promise<void> {
  const journals = join(dataFolder, 'journals');
  await mkdir(journals, { recursive: true });
  await fillFolder(journals, drills, SHORT_MINUTES);
  const { host } = ledgerOn(nodeDisk, journals, dataFolder);
  const made = await host.ledger('all');
  if (!made.ok) throw new Error(made.message);
}

async function start(browser: Browser, dataFolder: string): Promise<Start> {
  const fromMs = nowMs();
  const station = await startStation(dataFolder);
  const servedMs = nowMs();
  // A context of its own: nothing is in the cache.
  const context = await browser.newContext();
  try {
    const page = await context.newPage();
    const usableMs = await firstKeyMs(page, station.address);
    return { hostMs: servedMs - fromMs, pageMs: usableMs - servedMs };
  } finally {
    await context.close();
    await station.end();
  }
}

/** Epoch ms at which the first key arrived in the field. */
async function firstKeyMs(page: Page, address: string): Promise<number> {
  await page.addInitScript(() => {
    addEventListener('input', ({ timeStamp }) => {
      document.documentElement.dataset.inputMs ??= String(performance.timeOrigin + timeStamp);
    });
  });
  await page.goto(address, { waitUntil: 'commit' });
  await page.waitForFunction(() => document.activeElement instanceof HTMLInputElement);
  await page.keyboard.press('a');
  const inputMs = await page.waitForFunction(() => document.documentElement.dataset.inputMs);
  return Number(await inputMs.jsonValue());
}

/** Epoch ms, finer than `Date.now`. */
function nowMs(): number {
  return performance.timeOrigin + performance.now();
}
