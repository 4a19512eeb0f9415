import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it, onTestFinished } from 'vitest';
import { type CountBrowser, startCountBrowser } from '../support/count-browser.ts';
import type { Cue } from '../support/count-page/recording.ts';
import { readSounds, startFrameOf } from '../support/count-sounds.ts';

const RATE = 48_000;
const sounds = readSounds();

let browser: CountBrowser;
beforeAll(async () => {
  browser = await startCountBrowser();
});
afterAll(() => browser.close());

async function openPage(): Promise<Page> {
  const page = await browser.open({ rate: RATE });
  onTestFinished(() => page.context().close());
  // Until the clocks are known, a count would join later.
  await page.waitForTimeout(2000);
  return page;
}

it('the spoken count is heard word for word on its grid, and stops after the beat it was told, uncut', async () => {
  const page = await openPage();
  const { onsets, news } = await page.evaluate(async () => {
    const { player, drillNow, recording, context, news: all } = window.countPage;
    const fromMs = drillNow() + 400;
    player.start({ fromMs, cycleMs: 2000, sound: { kind: 'voice', language: 'en' } });
    await new Promise((resolve) => setTimeout(resolve, 600));
    // After "three" of the second cycle.
    player.stop({ afterMs: fromMs + 3000 });
    await new Promise((resolve) => setTimeout(resolve, 4500));
    return { onsets: recording.onsets(context().sampleRate), news: all.map(({ news: one }) => one) };
  });
  const first = onsets[0];
  expect(first?.file).toBe('one');
  const oneFrame = (first?.startFrame ?? 0) - startFrameOf(sounds, 'one', 0, RATE);
  const heard = [0, 4]
    .flatMap((cycle) => sounds.english.words.map(({ text, beat }) => ({ text, beat: beat + cycle })))
    .filter(({ beat }) => beat < 7);
  const planned: Cue[] = heard.map(({ text, beat }) => ({
    file: text,
    startFrame: startFrameOf(sounds, text, oneFrame + beat * 24_000, RATE),
  }));
  expect(await page.evaluate((cues) => window.countPage.recording.difference(cues), planned)).toBeLessThan(
    1e-6,
  );
  const started = news.find((one) => one.type === 'started');
  const stopped = news.find((one) => one.type === 'stopped');
  expect((stopped?.lastBeatMs ?? 0) - (started?.anchor.atMs ?? 0)).toBeCloseTo(3000, 0);
});

it('a count in place of another begins at its own "one", and the old one ends before it', async () => {
  const page = await openPage();
  const onsets = await page.evaluate(async () => {
    const { player, drillNow, recording, context } = window.countPage;
    const fromMs = drillNow() + 300;
    player.start({ fromMs, cycleMs: 2000, sound: { kind: 'tick', pitch: 1 } });
    await new Promise((resolve) => setTimeout(resolve, 700));
    player.start({ fromMs: fromMs + 2000, cycleMs: 3000, sound: { kind: 'tick', pitch: 3 } });
    await new Promise((resolve) => setTimeout(resolve, 4500));
    player.stop({ afterMs: 0 });
    return recording.onsets(context().sampleRate);
  });
  expect(onsets.slice(0, 8).map(({ file }) => file)).toEqual([
    ...['tick-1', 'tick-1', 'tick-1', 'breath-1'],
    ...['tick-3', 'tick-3', 'tick-3', 'breath-3'],
  ]);
  const oneFrame = onsets[4]?.startFrame ?? 0;
  expect(onsets[5]?.startFrame).toBe(oneFrame + 36_000);
  expect(oneFrame - (onsets[0]?.startFrame ?? 0)).toBeGreaterThan(2 * RATE - 50);
  expect(oneFrame - (onsets[0]?.startFrame ?? 0)).toBeLessThan(2 * RATE + 50);
});

it('counting costs the main thread little', async () => {
  const page = await openPage();
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');
  const taskMs = async () => {
    const { metrics } = await devtools.send('Performance.getMetrics');
    return (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN) * 1000;
  };
  const SECONDS = 12;
  await page.evaluate(() => {
    const { player, drillNow } = window.countPage;
    player.start({ fromMs: drillNow() + 300, cycleMs: 2000, sound: { kind: 'tick', pitch: 1 } });
  });
  const before = await page.evaluate(() => ({ ...window.countPage.cost }));
  const taskBefore = await taskMs();
  await page.waitForTimeout(SECONDS * 1000);
  const after = await page.evaluate(() => ({ ...window.countPage.cost }));
  const wakeMs = ((after.ms - before.ms) * 60) / SECONDS;
  const allMs = (((await taskMs()) - taskBefore) * 60) / SECONDS;
  console.log(
    `a minute of counting costs the main thread ${wakeMs.toFixed(1)} ms in the player’s wakes ` +
      `(${(((after.wakes - before.wakes) * 60) / SECONDS).toFixed(0)} of them); ` +
      `${allMs.toFixed(1)} ms for the whole page with its recorder`,
  );
  // 1 % of a minute: our choice.
  expect(wakeMs).toBeLessThan(600);
});
