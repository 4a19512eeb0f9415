import { DESKTOP_WORDS } from '../machines/words/desktop.ts';

/** The parts of Electron's `webContents` that are used. */
export type RecoveredContents = {
  on(event: 'render-process-gone', listener: (event: unknown, details: { reason: string }) => void): unknown;
  on(event: 'unresponsive' | 'responsive', listener: () => void): unknown;
  forcefullyCrashRenderer(): void;
};
/** A question with two answers; the number of the one that was chosen. Taken back by the signal, it is the first. */
export type Question = {
  title: string;
  words: string;
  answers: readonly [string, string];
  signal?: AbortSignal;
};
export type RecoveryParts = {
  contents: RecoveredContents;
  load: () => Promise<void>;
  close: () => void;
  ask: (question: Question) => Promise<number>;
  /** Milliseconds, never going back. */
  now: () => number;
};

/** A page that stops more often within this time is not loaded again unasked (our choice). */
const LOADS = 3;
const WITHIN_MS = 60_000;

/**
 * A page whose process has ended is loaded anew, and finds the running drill as any window does that comes late: the host
 * has every acknowledged line. One that hangs is left to the people, who may be in the middle of compressions.
 */
export function recoverPage({ contents, load, close, ask, now }: RecoveryParts): void {
  let stopped: number[] = [];
  let asking: AbortController | null = null;

  contents.on('render-process-gone', (_event, { reason }) => {
    asking?.abort();
    // It ended as it should: its window was closed.
    if (reason === 'clean-exit') return;
    stopped = [...stopped.filter((at) => now() - at < WITHIN_MS), now()];
    void (stopped.length > LOADS ? askAfterMany() : load());
  });
  contents.on('unresponsive', () => void askWhileBusy());
  contents.on('responsive', () => asking?.abort());

  async function askAfterMany(): Promise<void> {
    const { goneTitle: title, gone: words, loadAnew, closeWindow } = DESKTOP_WORDS;
    const answer = await ask({ title, words, answers: [closeWindow, loadAnew] });
    if (answer === 0) return close();
    stopped = [];
    await load();
  }

  async function askWhileBusy(): Promise<void> {
    if (asking !== null) return;
    const mine = new AbortController();
    asking = mine;
    const { busyTitle: title, busy: words, wait, loadAnew } = DESKTOP_WORDS;
    const answer = await ask({ title, words, answers: [wait, loadAnew], signal: mine.signal });
    asking = null;
    // Its end is then told as any other, and the page is loaded anew.
    if (answer === 1 && !mine.signal.aborted) contents.forcefullyCrashRenderer();
  }
}
