import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { launchChromium } from '../support/chromium.ts';
import { humanEdges } from '../support/human-pair.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { startStation } from '../support/started-station.ts';

/**
 * Ms from a key event's own time to the end of the frame in which the Floor shows what came of it. The frame is the first after the page's
 * change, and its end the first task after that frame's own work: what the graphics card and the display then take is not in it, nor
 * what the keyboard took before the event had its time.
 */
export type Paints = {
  /**
   * From the switch's event that lets a cycle be written down (the next one's first compression let up) to its row on the sheet: to the
   * disk and back is in it.
   */
  rows: readonly number[];
  /** From the key of a call to the change of its button: nothing is waited for. */
  calls: readonly number[];
  /** Key events on the Floor, how many of them the browser itself reports as having had their frame 16 ms later or more, and the longest. */
  events: number;
  slowEvents: number;
  longestEventMs: number;
};

type Watched = { rows: number[]; calls: number[]; slow: number[] };
declare global {
  interface Window {
    paints: Watched;
  }
}

const CYCLES = 20;
const CALLS = 10;
const KEYS = { chest: 'KeyX', airway: 'Period' };

/** Forty seconds of a pair in real time on the instructor's Floor, then ten swaps called. */
export async function pressToPaint(): Promise<Paints> {
  const folder = await mkdtemp(join(tmpdir(), 'antiphon-paint-'));
  const station = await startStation(folder);
  const browser = await launchChromium();
  try {
    const page = await browser.newPage();
    await page.addInitScript(watchPaints, KEYS);
    await page.goto(station.address);
    await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
    await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
    await page.getByText('Rhythm: two keys').click();
    await page.getByRole('radio', { name: 'Unled' }).check();
    await page.getByRole('textbox', { name: 'First person' }).press('Enter');
    await page.getByRole('button', { name: '1 Begin' }).waitFor();
    const keys = await KeyPlayer.attach(page);
    await page.evaluate(() => window.paints.slow.splice(0));
    await keys.tap('Digit1');
    const edges = humanEdges({ ...KEYS, seed: 4, cycles: CYCLES });
    await keys.play(edges);
    await callSwaps(page, keys);
    const { rows, calls, slow } = await page.evaluate(() => window.paints);
    return {
      rows,
      calls,
      events: edges.length + 2 + 4 * CALLS,
      slowEvents: slow.length,
      longestEventMs: Math.max(0, ...slow),
    };
  } finally {
    await browser.close();
    await station.end();
    await rm(folder, { recursive: true });
  }
}

/** Called and taken back, so that each is the same. */
async function callSwaps(page: Page, keys: KeyPlayer): Promise<void> {
  const called = page.locator('.called-note');
  for (let call = 0; call < CALLS; call += 1) {
    await keys.tap('Digit2');
    await called.waitFor();
    await keys.tap('Digit8');
    await called.waitFor({ state: 'detached' });
  }
}

/** Runs in the page, so it holds all that it needs. */
function watchPaints({ chest, airway }: { chest: string; airway: string }): void {
  const paints: Watched = { rows: [], calls: [], slow: [] };
  window.paints = paints;
  let rowFromMs: number | null = null;
  let callFromMs: number | null = null;
  const hear = ({ code, type, timeStamp }: KeyboardEvent) => {
    if (code === 'Digit2' && type === 'keydown') callFromMs = timeStamp;
    if (code === chest || code === airway) rowFromMs = timeStamp;
  };
  addEventListener('keydown', hear, { capture: true });
  addEventListener('keyup', hear, { capture: true });
  const afterFrame = (then: () => void) =>
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = then;
      port2.postMessage(null);
    });
  const note = (into: number[], fromMs: number) =>
    afterFrame(() => {
      into.push(performance.now() - fromMs);
    });
  const isIn = (records: MutationRecord[], place: string) =>
    records.some(({ target }) => (target instanceof Element ? target : target.parentElement)?.closest(place));
  new MutationObserver((records) => {
    if (rowFromMs !== null && isIn(records, '.floor-sheet')) {
      note(paints.rows, rowFromMs);
      rowFromMs = null;
    }
    if (callFromMs !== null && isIn(records, '.floor-keys')) {
      note(paints.calls, callFromMs);
      callFromMs = null;
    }
  }).observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
  // Sixteen is the least threshold there is; durations come in steps of 8 ms.
  new PerformanceObserver((list) => {
    for (const { name, duration } of list.getEntries())
      if (name === 'keydown' || name === 'keyup') paints.slow.push(duration);
  }).observe({ type: 'event', durationThreshold: 16, buffered: true } as PerformanceObserverInit);
}
