import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { showSample } from '../support/debrief-page.ts';
import { differenceFromKept, TOLERANCE, widthOfLetters } from '../support/pictures.ts';
import { SAMPLE_DRILLS, type SampleDrill } from '../support/sample-drills.ts';
import { serveStation } from '../support/served-station.ts';

/** What the kept pictures' machine had: DejaVu Sans, as Debian's Chromium shows it. */
const KEPT_WIDTH = 423;

describe('the Debrief looks as it was last looked at', () => {
  let letters = 0;
  beforeAll(async () => {
    const browser = await launchChromium();
    letters = await widthOfLetters(await browser.newPage());
    await browser.close();
  });

  async function open(name: SampleDrill) {
    const station = await serveStation();
    onTestFinished(() => station.close());
    const browser = await launchChromium();
    onTestFinished(() => browser.close());
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, locale: 'en-GB' });
    await showSample(page, station, name);
    return page;
  }

  test.each(SAMPLE_DRILLS)('the %s drill, at first sight and with a learner’s page', async (name) => {
    const page = await open(name);
    const width = await widthOfLetters(page);
    if (width !== KEPT_WIDTH) throw new Error(`letters ${width} ${letters}`);
    expect(await differenceFromKept(`${name}`, await page.screenshot())).toBeLessThan(TOLERANCE.share);
  });
});
