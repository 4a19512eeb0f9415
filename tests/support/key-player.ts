import type { CDPSession, Page } from 'playwright-core';

/** A key going down or up, in ms from the playing's start. */
export type KeyEdge = { atMs: number; code: string; down: boolean };

/** Sends keys through the debugging protocol with the time they are to have, as an operating system would. */
export class KeyPlayer {
  private readonly session: CDPSession;

  private constructor(session: CDPSession) {
    this.session = session;
  }

  static async attach(page: Page): Promise<KeyPlayer> {
    return new KeyPlayer(await page.context().newCDPSession(page));
  }

  /** `atEpochMs` is the time the event gets; now when left out. */
  async send(code: string, down: boolean, atEpochMs?: number, isAutoRepeat = false): Promise<void> {
    await this.session.send('Input.dispatchKeyEvent', {
      type: down ? 'keyDown' : 'keyUp',
      code,
      key: keyOf(code),
      // Enter presses a focused button by the character it types.
      ...(down && code === 'Enter' ? { text: '\r' } : {}),
      windowsVirtualKeyCode: virtualKeyOf(code),
      autoRepeat: isAutoRepeat,
      ...(atEpochMs === undefined ? {} : { timestamp: atEpochMs / 1000 }),
    });
  }

  /** A key pressed and let go. */
  async tap(code: string): Promise<void> {
    await this.send(code, true);
    await this.send(code, false);
  }

  /** Plays edges; in real time unless `atOnce`, when they only carry the times they would have had. Returns the epoch ms of their 0. */
  async play(
    edges: readonly KeyEdge[],
    options: { fromEpochMs?: number; atOnce?: boolean } = {},
  ): Promise<number> {
    const fromEpochMs = options.fromEpochMs ?? Date.now() + 20;
    for (const { atMs, code, down } of edges) {
      const waitMs = fromEpochMs + atMs - Date.now();
      if (options.atOnce !== true && waitMs > 0) await new Promise((resolve) => setTimeout(resolve, waitMs));
      await this.send(code, down, fromEpochMs + atMs);
    }
    return fromEpochMs;
  }
}

function keyOf(code: string): string {
  if (code.startsWith('Key')) return code.slice(3).toLowerCase();
  if (code.startsWith('Digit')) return code.slice(5);
  return code === 'Period' ? '.' : code;
}

function virtualKeyOf(code: string): number {
  if (code === 'Enter') return 13;
  if (code === 'Period') return 190;
  return keyOf(code).toUpperCase().charCodeAt(0);
}
