import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CountAnchor } from '../../machines/count/beats.ts';
import { fitClocks } from '../../machines/count/clock-fit.ts';
import { type CountBrowser, startCountBrowser } from '../support/count-browser.ts';
import type { Cue } from '../support/count-page/recording.ts';
import { readSounds, startFrameOf } from '../support/count-sounds.ts';

/** A minute, or as many seconds as are asked for: `ANTIPHON_COUNT_SECONDS=600` for a drill's length. */
const SECONDS = Number(process.env.ANTIPHON_COUNT_SECONDS ?? 60);
const CYCLE_MS = 2000;
const sounds = readSounds();

let browser: CountBrowser;
beforeAll(async () => {
  browser = await startCountBrowser();
});
afterAll(() => browser.close());

type Heard = { onsets: Cue[]; blocks: number; anchors: { type: string; anchor: CountAnchor }[] };

/** A count of some seconds while the page is kept busy at random, then stopped, then what the tap heard. */
async function countWhileBusy(page: Page, seconds: number): Promise<Heard> {
  return page.evaluate(
    async ({ seconds, cycleMs }) => {
      const { player, recording, news, drillNow, blockAtRandom, context } = window.countPage;
      await new Promise((resolve) => setTimeout(resolve, 3000));
      const fromMs = drillNow() + 500;
      player.start({ fromMs, cycleMs, sound: { kind: 'tick', pitch: 2 } });
      const blocks = await blockAtRandom({ seconds, busyMs: 150, seed: 11 });
      player.stop({ afterMs: drillNow() });
      await new Promise((resolve) => setTimeout(resolve, 1500));
      const anchors = news.flatMap(({ news: one }) =>
        one.type === 'started' || one.type === 're-anchored' ? [{ type: one.type, anchor: one.anchor }] : [],
      );
      return { onsets: recording.onsets(context().sampleRate), blocks, anchors };
    },
    { seconds, cycleMs: CYCLE_MS },
  );
}

describe.each([
  { rate: 48_000, name: '48 000 Hz', seconds: SECONDS },
  { rate: undefined, name: 'the browser’s own rate', seconds: 8 },
])('recorded from the master output, context at $name', ({ rate, seconds }) => {
  it('a page busy for 150 ms at random moves, drops and doubles no beat: every sample is where the grid says', {
    timeout: seconds * 1000 + 60_000,
  }, async () => {
    const page = await browser.open(rate === undefined ? {} : { rate });
    const clocks = page.evaluate((time) => window.countPage.readClocks(time), seconds + 3);
    const heard = await countWhileBusy(page, seconds);
    const pairs = await clocks;
    const { sampleRate, span, troubles } = await page.evaluate(() => ({
      sampleRate: window.countPage.context().sampleRate,
      span: window.countPage.recording.span,
      troubles: window.countPage.news.filter(({ news }) => news.type === 'trouble').map(({ news }) => news),
    }));
    expect(span.lost).toBe(0);

    const [first] = heard.onsets;
    if (first === undefined) throw new Error('nothing was heard');
    const oneFrame = first.startFrame + startFrameOf(sounds, first.file, 0, sampleRate) * -1;
    const framesPerBeat = (CYCLE_MS / 4000) * sampleRate;
    const planned = heard.onsets.map((_, beat) => {
      const file = beat % 4 === 3 ? 'breath-2' : 'tick-2';
      return { file, startFrame: startFrameOf(sounds, file, oneFrame + beat * framesPerBeat, sampleRate) };
    });
    expect(heard.onsets).toEqual(planned);
    expect(heard.onsets.length).toBeGreaterThanOrEqual(seconds * 2 - 1);
    expect(await page.evaluate((cues) => window.countPage.recording.difference(cues), planned)).toBeLessThan(
      1e-6,
    );
    // This machine may have no loudspeaker; nothing else was wrong.
    expect(troubles.filter((one) => one.type !== 'trouble' || one.code !== 'no-device')).toEqual([]);

    // Readings over the whole time, fitted afterwards, against what was said while it ran.
    const truth = fitClocks(pairs);
    if (truth === null) throw new Error('no clocks were read');
    const offMs = heard.onsets.map((_, beat) => {
      const heardMs = truth.drillMsAt((oneFrame + beat * framesPerBeat) / sampleRate);
      const { anchor } =
        heard.anchors.findLast(({ anchor: { atMs } }) => atMs <= heardMs + 1) ?? heard.anchors[0] ?? {};
      if (anchor === undefined) throw new Error('a beat before the first anchor');
      const beats = Math.round(((heardMs - anchor.atMs) / anchor.cycleMs) * 4);
      return anchor.atMs + (beats * anchor.cycleMs) / 4 - heardMs;
    });
    const worstMs = Math.max(...offMs.map(Math.abs));
    console.log(
      `${sampleRate} Hz, ${seconds} s: ${heard.onsets.length} beats on the sample, ${heard.blocks} blocks of 150 ms; ` +
        `drift ${((truth.msPerSecond - 1000) * 1000).toFixed(2)} ppm, readings' spread ${truth.spreadMs.toFixed(3)} ms, ` +
        `said beats off by at most ${worstMs.toFixed(3)} ms, ${heard.anchors.length} anchors`,
    );
    // An output without a device is driven by timers: where the machine is too busy for those, its clock is no line,
    // and nobody can say to 1 ms where a beat was. Four spreads of the readings then.
    expect(worstMs).toBeLessThan(Math.max(1, 4 * truth.spreadMs));
    await page.context().close();
  });
});
