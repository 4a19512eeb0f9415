import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { CountSound } from '../../renderer/sound/count-news.ts';
import { type CountBrowser, startCountBrowser } from '../support/count-browser.ts';
import type { Cue } from '../support/count-page/recording.ts';
import { readSounds, startFrameOf } from '../support/count-sounds.ts';

const RATE = 48_000;
const TEXTS = ['swap', 'two-finger', 'soon'];
const sounds = readSounds();
const words = TEXTS.map((text) => {
  const samples = sounds.calls.words.find((word) => word.text === text)?.samples;
  if (samples === undefined) throw new Error(`no such word: ${text}`);
  return { text, samples };
});

let browser: CountBrowser;
beforeAll(async () => {
  browser = await startCountBrowser();
});
afterAll(() => browser.close());

/** A count of some seconds, over which words are said from 4.3 s on. */
async function warnOverCount(page: Page, cycleMs: number, sound: CountSound) {
  return page.evaluate(
    async ({ cycleMs, sound, texts }) => {
      const { player, recording, drillNow, context } = window.countPage;
      const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
      await wait(3000);
      player.start({ fromMs: drillNow() + 500, cycleMs, sound });
      await wait(4300);
      const saidFrame = Math.round((context().currentTime + 0.03) * context().sampleRate);
      player.speak({ language: 'en', texts });
      await wait(6000);
      player.stop({ afterMs: drillNow() });
      await wait(2500);
      return { onsets: recording.onsets(context().sampleRate), saidFrame, lost: recording.span.lost };
    },
    { cycleMs, sound, texts: TEXTS },
  );
}

/** The words one after the other, 60 ms apart. */
function wordsFrom(frame: number): Cue[] {
  let startFrame = frame;
  return words.map(({ text, samples }) => {
    const cue = { file: text, startFrame };
    startFrame += samples + 0.06 * RATE;
    return cue;
  });
}

it('a warning is heard at once and whole over a ticked count, of which no sample moves', async () => {
  const page = await browser.open({ rate: RATE });
  const { onsets, saidFrame, lost } = await warnOverCount(page, 2000, { kind: 'tick', pitch: 2 });
  expect(lost).toBe(0);
  const [first, last] = [onsets[0], onsets.at(-1)];
  if (first === undefined || last === undefined) throw new Error('nothing was heard');
  const oneFrame = first.startFrame - startFrameOf(sounds, first.file, 0, RATE);
  const beats = Math.round((last.startFrame - first.startFrame) / (RATE / 2)) + 1;
  expect(beats).toBeGreaterThan(16);
  const ticks = Array.from({ length: beats }, (_, beat) => {
    const file = beat % 4 === 3 ? 'breath-2' : 'tick-2';
    return { file, startFrame: startFrameOf(sounds, file, oneFrame + (beat * RATE) / 2, RATE) };
  });
  // The context's time may go on by a few quanta between the page's reading of it and the player's.
  const differences = await page.evaluate(
    (plans) => plans.map((plan) => window.countPage.recording.difference(plan)),
    [0, 1, 2, 3, 4, 5, 6, 7, 8].map((quanta) => [...ticks, ...wordsFrom(saidFrame + quanta * 128)]),
  );
  expect(Math.min(...differences)).toBeLessThan(1e-6);
  await page.context().close();
});

it('a spoken count goes on under a warning and is as loud as before after it, every word on its sample', async () => {
  const page = await browser.open({ rate: RATE });
  const { onsets, saidFrame, lost } = await warnOverCount(page, 3000, { kind: 'voice', language: 'en' });
  expect(lost).toBe(0);
  const [first] = onsets;
  if (first === undefined) throw new Error('nothing was heard');
  const oneFrame = first.startFrame - startFrameOf(sounds, 'one', 0, RATE);
  const overFrame = (wordsFrom(saidFrame).at(-1)?.startFrame ?? 0) + RATE;
  const around = onsets.filter(
    ({ startFrame }) => startFrame < saidFrame - RATE / 2 || startFrame > overFrame,
  );
  const halfBeats = around.map(({ file, startFrame }) => {
    const frame = startFrame - startFrameOf(sounds, file === '?' ? 'one' : file, 0, RATE);
    return { file, halfBeat: (frame - oneFrame) / ((RATE * 3) / 8) };
  });
  const spoken = ['one', 'and', 'two', 'and', 'three', 'and', 'breathe', 'and'];
  expect(halfBeats).toEqual(halfBeats.map(({ halfBeat }) => ({ file: spoken[halfBeat % 8], halfBeat })));
  expect(halfBeats.filter(({ halfBeat }) => halfBeat > 12).length).toBeGreaterThan(5);
  await page.context().close();
});
