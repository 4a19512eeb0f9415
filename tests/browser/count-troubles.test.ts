import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import type { CountNews } from '../../renderer/sound/count-news.ts';
import { type CountBrowser, startCountBrowser } from '../support/count-browser.ts';
import { SOUNDS_FOLDER } from '../support/count-sounds.ts';

const CYCLE_MS = 2000;

let browser: CountBrowser;
let careful: CountBrowser;
beforeAll(async () => {
  [browser, careful] = await Promise.all([startCountBrowser(), startCountBrowser({ needsGesture: true })]);
});
afterAll(async () => {
  await Promise.all([browser.close(), careful.close()]);
});

/** News but for the loudspeaker that the machine of the test may not have. */
async function newsOf(page: Page): Promise<CountNews[]> {
  const news = await page.evaluate(() => window.countPage.news.map(({ news: one }) => one));
  return news.filter((one) => !('code' in one && one.code === 'no-device'));
}

function waitForNews(page: Page, type: CountNews['type'], times = 1): Promise<unknown> {
  return page.waitForFunction(
    ({ type, times }) => window.countPage.news.filter(({ news }) => news.type === type).length >= times,
    { type, times },
    { timeout: 10_000, polling: 50 },
  );
}

function startTicks(page: Page, pitch: number): Promise<number> {
  return page.evaluate(
    ({ pitch, cycleMs }) => {
      const fromMs = window.countPage.drillNow() + 300;
      window.countPage.player.start({ fromMs, cycleMs, sound: { kind: 'tick', pitch } });
      return fromMs;
    },
    { pitch, cycleMs: CYCLE_MS },
  );
}

/** How far a count is from the rhythm it was to have, ms. */
function offRhythm(news: CountNews | undefined, fromMs: number): number {
  if (news?.type !== 'started') return Number.NaN;
  const cycles = Math.round((news.anchor.atMs - fromMs) / CYCLE_MS);
  return Math.abs(news.anchor.atMs - fromMs - cycles * CYCLE_MS);
}

async function openPage(
  from: CountBrowser,
  options: Parameters<CountBrowser['open']>[0] = {},
): Promise<Page> {
  const page = await from.open(options);
  onTestFinished(() => page.context().close());
  return page;
}

describe('a sound file', () => {
  it('that is missing is said, and the other sounds still count', async () => {
    const page = await openPage(browser, {
      isSoundLoaded: false,
      prepare: (one) =>
        one.route('**/breath-2*.wav', (route) => route.fulfill({ status: 404, body: 'none' })),
    });
    await page.evaluate(() => window.countPage.player.load());
    await startTicks(page, 2);
    await startTicks(page, 1);
    await waitForNews(page, 'started');
    expect((await newsOf(page)).map((one) => ('code' in one ? one.code : one.type))).toEqual([
      'sound-missing',
      'started',
    ]);
  });

  it.each([
    { what: 'no sound at all', bodyOf: async () => Buffer.from('this is not a sound') },
    {
      what: 'cut short',
      bodyOf: async () => (await readFile(new URL('ticks/tick-3.wav', SOUNDS_FOLDER))).subarray(0, 3000),
    },
  ])('that is $what is said to be corrupt, and its count stays silent', async ({ bodyOf }) => {
    const body = await bodyOf();
    const page = await openPage(browser, {
      isSoundLoaded: false,
      prepare: (one) => one.route('**/tick-3*.wav', (route) => route.fulfill({ status: 200, body })),
    });
    await page.evaluate(() => window.countPage.player.load());
    await startTicks(page, 3);
    await page.waitForTimeout(2000);
    expect(await newsOf(page)).toEqual([{ type: 'trouble', code: 'sound-corrupt' }]);
  });
});

describe('sound that is blocked until a gesture', () => {
  it('is said, and the count joins at its next "one" after the gesture', async () => {
    const page = await openPage(careful, { isSoundLoaded: false, isAlone: true });
    await page.waitForTimeout(1500);
    expect(await newsOf(page)).toEqual([{ type: 'trouble', code: 'audio-blocked' }]);
    await page.getByRole('button').click();
    await waitForNews(page, 'started');
    const news = await newsOf(page);
    expect(news.map(({ type }) => type)).toEqual(['trouble', 'trouble over', 'started']);
    expect(news[2]).toMatchObject({ type: 'started', anchor: { beat: 'one' } });
  });
});

describe('sound that is lost during a count', () => {
  it('is said, asked for again, and the count goes on at a "one" of the rhythm it had', async () => {
    const page = await openPage(browser);
    const fromMs = await startTicks(page, 4);
    await page.waitForTimeout(2500);
    await page.evaluate(() => window.countPage.context().suspend());
    await waitForNews(page, 'started', 2);
    const news = await newsOf(page);
    expect(news.filter(({ type }) => type !== 're-anchored').map(({ type }) => type)).toEqual([
      'started',
      'trouble',
      'stopped',
      'trouble over',
      'started',
    ]);
    expect(offRhythm(news.at(-1), fromMs)).toBeLessThan(1);
  });

  it('with its context is made anew, sounds and all, and recorded in the old rhythm', async () => {
    const page = await openPage(browser);
    const fromMs = await startTicks(page, 1);
    await page.waitForTimeout(2500);
    await page.evaluate(() => window.countPage.context().close());
    await waitForNews(page, 'started', 2);
    expect(offRhythm((await newsOf(page)).at(-1), fromMs)).toBeLessThan(1);
    const onsets = await page.evaluate(async () => {
      const { recording, startRecording, context } = window.countPage;
      recording.forget();
      await startRecording();
      await new Promise((resolve) => setTimeout(resolve, 2500));
      return recording.onsets(context().sampleRate).length;
    });
    expect(onsets).toBeGreaterThanOrEqual(3);
  });
});
