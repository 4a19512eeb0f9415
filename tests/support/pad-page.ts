import type { Page } from 'playwright-core';

/** A pad's buttons going down and up, in ms from the playing's start. */
export type PadEdge = { atMs: number; button: number; down: boolean };

export const FAKE_PAD = 'Plain two-button board (Vendor: 0000 Product: 0001)';
/** The board samples its contacts at 125 Hz, as plain USB boards do; the browser samples the board every 4 ms. */
const BOARD_STEP_MS = 8;
const BROWSER_STEP_MS = 4;

/**
 * Puts a game pad where the page sees one lowest: `navigator.getGamepads`. What it answers changes in the browser's steps
 * and shows the board's, each with its own phase and a jitter of up to 1 ms, and is made anew for each sample, as Chromium does.
 */
export async function installFakePad(page: Page): Promise<void> {
  await page.addInitScript(
    ([id, boardStepMs, browserStepMs]) => {
      const board: { atMs: number; button: number; down: boolean }[] = [];
      let fromMs = 0;
      let isPluggedIn = false;
      let sampledMs = 0;
      let sample: unknown = null;
      let seed = 12_345;
      const random = () => {
        seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
        return seed / 2_147_483_648;
      };
      const take = (nowMs: number) => {
        if (nowMs - sampledMs < browserStepMs + random() && sample !== null) return;
        sampledMs = nowMs - random() * 0.5;
        const seenMs = Math.floor(sampledMs / boardStepMs) * boardStepMs - fromMs;
        const isDown = [false, false, false, false];
        for (const edge of board) if (edge.atMs <= seenMs) isDown[edge.button] = edge.down;
        sample = {
          id,
          index: 0,
          connected: true,
          mapping: '',
          timestamp: sampledMs,
          axes: [0, 0],
          buttons: isDown.map((pressed) => ({ pressed, touched: pressed, value: pressed ? 1 : 0 })),
        };
      };
      navigator.getGamepads = () => {
        if (!isPluggedIn) return [null, null, null, null];
        take(performance.now());
        return [sample, null, null, null] as unknown as (Gamepad | null)[];
      };
      Object.assign(globalThis, {
        fakePad: {
          plug: (isIn: boolean) => {
            isPluggedIn = isIn;
            sample = null;
            dispatchEvent(new Event(isIn ? 'gamepadconnected' : 'gamepaddisconnected'));
          },
          /** Edges by the page's clock, from `startMs` on. */
          play: (edges: typeof board, startMs: number) => {
            board.length = 0;
            board.push(...edges);
            fromMs = startMs;
          },
        },
      });
    },
    [FAKE_PAD, BOARD_STEP_MS, BROWSER_STEP_MS] as const,
  );
}

declare const fakePad: {
  plug(isIn: boolean): void;
  play(edges: readonly PadEdge[], startMs: number): void;
};

export async function plugPad(page: Page, isIn = true): Promise<void> {
  await page.evaluate((wanted) => fakePad.plug(wanted), isIn);
}

/** Plays edges on the pad from an epoch time on; what was played before is over. */
export async function playPad(page: Page, edges: readonly PadEdge[], fromEpochMs: number): Promise<void> {
  await page.evaluate(([wanted, epochMs]) => fakePad.play(wanted, epochMs - performance.timeOrigin), [
    [...edges],
    fromEpochMs,
  ] as const);
}

/** One press of a button now, long enough for every step. */
export async function tapPad(page: Page, button: number): Promise<void> {
  const press = [
    { atMs: 0, button, down: true },
    { atMs: 120, button, down: false },
  ];
  await playPad(page, press, Date.now() + 20);
  await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 250)));
}
