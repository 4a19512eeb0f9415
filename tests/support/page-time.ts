import type { Page } from 'playwright-core';

/** Where a page's time stands: ms on its own clock, and how far that was put forward of the computer's. */
export type PageTime = { nowMs: number; aheadMs: number; originEpochMs: number };

type TimeInPage = { putForwardTo: (ms: number) => Promise<PageTime>; read: () => PageTime };
declare global {
  interface Window {
    pageTime: TimeInPage;
  }
}

/**
 * Before a page is loaded: its clock runs on as ever, and can be put forward. Timers of 50 ms and more then ring as often and in
 * the order in which they would have, each with the time it was due; shorter ones and frames keep real time. The audio clock is put forward
 * with it: what is placed on it then sounds as soon as it can.
 */
export async function holdPageTime(page: Page): Promise<void> {
  await page.addInitScript(installTime);
}

/** Lets the page's time pass up to a moment of its own clock; at once where that is past. */
export async function putForwardTo(page: Page, ms: number): Promise<PageTime> {
  return await page.evaluate((to) => window.pageTime.putForwardTo(to), ms);
}

export async function readPageTime(page: Page): Promise<PageTime> {
  return await page.evaluate(() => window.pageTime.read());
}

/** Runs in the page, so it holds all that it needs. */
function installTime(): void {
  type Timer = { dueMs: number; everyMs: number | null; ring: () => void };
  const LEAST_MS = 50;
  const FIRST_ID = 1_000_000_000;
  const LOOK_EVERY_MS = 20;
  let aheadMs = 0;
  const timers = new Map<number, Timer>();
  const realNow = performance.now.bind(performance);
  const realTimeout = window.setTimeout.bind(window);
  const realInterval = window.setInterval.bind(window);
  const realClear = window.clearTimeout.bind(window);
  performance.now = () => realNow() + aheadMs;
  const stamp = Object.getOwnPropertyDescriptor(Event.prototype, 'timeStamp');
  Object.defineProperty(Event.prototype, 'timeStamp', {
    configurable: true,
    get(): number {
      return Number(stamp?.get?.call(this)) + aheadMs;
    },
  });

  // Each context's clock begins at 0 when it is made, which is when it is looked at first.
  const madeAhead = new WeakMap<object, number>();
  let audioAheadS = 0;
  const aheadOf = (context: object): number => {
    if (!madeAhead.has(context)) madeAhead.set(context, aheadMs);
    audioAheadS = (aheadMs - (madeAhead.get(context) ?? aheadMs)) / 1000;
    return audioAheadS;
  };
  const audioTime = Object.getOwnPropertyDescriptor(BaseAudioContext.prototype, 'currentTime');
  Object.defineProperty(BaseAudioContext.prototype, 'currentTime', {
    configurable: true,
    get(this: BaseAudioContext): number {
      return Number(audioTime?.get?.call(this)) + aheadOf(this);
    },
  });
  const outputTime = Object.getOwnPropertyDescriptor(AudioContext.prototype, 'getOutputTimestamp')?.value as (
    this: AudioContext,
  ) => AudioTimestamp;
  Object.defineProperty(AudioContext.prototype, 'getOutputTimestamp', {
    configurable: true,
    value: function stampAhead(this: AudioContext): AudioTimestamp {
      const { contextTime = 0, performanceTime = 0 } = outputTime.call(this);
      return { contextTime: contextTime + aheadOf(this), performanceTime: performanceTime + aheadMs };
    },
  });
  const isReal = (time: unknown) => typeof time === 'number' && time > 0;
  /** The call's argument of that place is a time on the audio clock. */
  const takeBack = (of: object, names: readonly string[], place: number) => {
    for (const name of names) {
      const before = Object.getOwnPropertyDescriptor(of, name)?.value as (...words: unknown[]) => unknown;
      Object.defineProperty(of, name, {
        configurable: true,
        value: function call(this: unknown, ...words: unknown[]) {
          if (isReal(words[place])) words[place] = Math.max(0, Number(words[place]) - audioAheadS);
          return before.apply(this, words);
        },
      });
    }
  };
  takeBack(AudioBufferSourceNode.prototype, ['start'], 0);
  takeBack(AudioScheduledSourceNode.prototype, ['stop'], 0);
  takeBack(AudioParam.prototype, ['cancelScheduledValues', 'cancelAndHoldAtTime'], 0);
  takeBack(AudioParam.prototype, ['setValueAtTime', 'linearRampToValueAtTime', 'setTargetAtTime'], 1);

  let nextId = FIRST_ID;
  const keep = (handler: TimerHandler, ms: number, everyMs: number | null, words: unknown[]): number => {
    if (typeof handler !== 'function') throw new Error('no timer here has a text');
    nextId += 1;
    timers.set(nextId, { dueMs: performance.now() + ms, everyMs, ring: () => handler(...words) });
    return nextId;
  };
  const clear = (id?: number) => {
    if (id !== undefined && !timers.delete(id)) realClear(id);
  };
  window.setTimeout = ((handler: TimerHandler, ms = 0, ...words: unknown[]) =>
    ms < LEAST_MS ? realTimeout(handler, ms, ...words) : keep(handler, ms, null, words)) as typeof setTimeout;
  window.setInterval = ((handler: TimerHandler, ms = 0, ...words: unknown[]) =>
    ms < LEAST_MS ? realInterval(handler, ms, ...words) : keep(handler, ms, ms, words)) as typeof setInterval;
  window.clearTimeout = clear as typeof clearTimeout;
  window.clearInterval = clear as typeof clearInterval;

  const nextDue = (untilMs: number): [number, Timer] | null => {
    let found: [number, Timer] | null = null;
    for (const one of timers)
      if (one[1].dueMs <= untilMs && (found === null || one[1].dueMs < found[1].dueMs)) found = one;
    return found;
  };
  const ringNext = (untilMs: number): boolean => {
    const found = nextDue(untilMs);
    if (found === null) return false;
    const [id, timer] = found;
    aheadMs += Math.max(0, timer.dueMs - performance.now());
    if (timer.everyMs === null) timers.delete(id);
    else timer.dueMs += timer.everyMs;
    timer.ring();
    return true;
  };
  realInterval(() => {
    while (ringNext(performance.now()));
  }, LOOK_EVERY_MS);

  const { port1, port2 } = new MessageChannel();
  let goOn: () => void = () => undefined;
  port1.onmessage = () => goOn();
  /** What a ring set off comes before the next ring: React's work, answers of the host that are there. */
  const afterTasks = () =>
    new Promise<void>((resolve) => {
      goOn = resolve;
      port2.postMessage(null);
    });
  const read = () => ({ nowMs: performance.now(), aheadMs, originEpochMs: performance.timeOrigin });
  window.pageTime = {
    read,
    putForwardTo: async (ms) => {
      while (ringNext(ms)) await afterTasks();
      aheadMs += Math.max(0, ms - performance.now());
      return read();
    },
  };
}
