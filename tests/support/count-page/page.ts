import { Howl, Howler } from 'howler';
import type { CountNews } from '../../../renderer/sound/count-news.ts';
import { type CountPlayer, makeCountPlayer } from '../../../renderer/sound/count-player.ts';
import { readClockPair } from '../../../renderer/sound/heard-clock.ts';
import { readCatalogue } from '../../../renderer/sound/sound-catalogue.ts';
import { makeRandom } from '../clock-pairs.ts';
import { Recording } from './recording.ts';

/** What the browser tests drive: the real player on the real audio graph, and a tap on its master output. */
export type CountPage = {
  player: CountPlayer;
  news: { atMs: number; news: CountNews }[];
  recording: Recording;
  context: () => AudioContext;
  drillNow: () => number;
  startRecording: () => Promise<void>;
  /** Keeps the page busy for `busyMs` at a time, at random, until the promise resolves. */
  blockAtRandom: (order: { seconds: number; busyMs: number; seed: number }) => Promise<number>;
  /** Readings of the two clocks that the player has no part in. */
  readClocks: (seconds: number) => Promise<{ audioS: number; drillMs: number }[]>;
  /** Main-thread ms spent in the player's wakes so far, and how many there were. */
  cost: { ms: number; wakes: number };
};

declare global {
  interface Window {
    countPage: CountPage;
  }
}

const asked = new URLSearchParams(window.location.search);
const rate = Number(asked.get('rate'));
if (rate > 0) {
  const Plain = window.AudioContext;
  window.AudioContext = class extends Plain {
    constructor() {
      super({ sampleRate: rate });
    }
  };
}

const openedMs = performance.now();
const news: CountPage['news'] = [];
const cost = { ms: 0, wakes: 0 };
const catalogue = readCatalogue();
const recording = new Recording(catalogue);
const drillNow = () => performance.now() - openedMs;
const wait = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));
const context = (): AudioContext => Howler.ctx;

const player = makeCountPlayer({
  howler: { Howler, Howl },
  catalogue,
  pageNow: () => performance.now(),
  openedMs: () => openedMs,
  onNews: (one) => news.push({ atMs: drillNow(), news: one }),
  wakeEvery: (ms, wake) => {
    const timer = setInterval(() => {
      const from = performance.now();
      wake();
      cost.ms += performance.now() - from;
      cost.wakes += 1;
    }, ms);
    return () => clearInterval(timer);
  },
  gestures: window,
  devices: navigator.mediaDevices,
});

window.countPage = {
  player,
  news,
  recording,
  context,
  drillNow,
  cost,
  startRecording: async () => {
    await context().audioWorklet.addModule('./recorder.js');
    const recorder = new AudioWorkletNode(context(), 'recorder', {
      channelCount: 1,
      channelCountMode: 'explicit',
    });
    recorder.port.onmessage = ({ data }) => recording.take(data);
    Howler.masterGain.connect(recorder);
    // A node without a way to the destination need not be rendered; its own output is silence.
    recorder.connect(context().destination);
    // Chromium gives a new node its first quanta with a gap.
    await wait(300);
    recording.forget();
  },
  blockAtRandom: async ({ seconds, busyMs, seed }) => {
    const random = makeRandom(seed);
    const endMs = performance.now() + seconds * 1000;
    let blocks = 0;
    while (performance.now() < endMs) {
      await wait(20 + random() * 400);
      const untilMs = performance.now() + busyMs;
      while (performance.now() < untilMs);
      blocks += 1;
    }
    return blocks;
  },
  readClocks: async (seconds) => {
    const pairs = [];
    const endMs = performance.now() + seconds * 1000;
    while (performance.now() < endMs) {
      const pair = readClockPair(context(), performance.now());
      if (pair !== null) pairs.push({ audioS: pair.audioS, drillMs: pair.drillMs - openedMs });
      await wait(250);
    }
    return pairs;
  },
};

// What a test evaluates counts as a gesture, so a page that must have none loads and counts by itself.
if (asked.has('alone')) {
  await player.load();
  player.start({ fromMs: drillNow(), cycleMs: 2000, sound: { kind: 'tick', pitch: 1 } });
}
