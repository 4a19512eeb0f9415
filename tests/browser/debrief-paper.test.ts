import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { showSample } from '../support/debrief-page.ts';
import { pagesOfPdf } from '../support/pdf-pages.ts';
import { SAMPLE_DRILLS, type SampleDrill } from '../support/sample-drills.ts';
import { serveStation } from '../support/served-station.ts';

/** Paper sizes in points: A4 is 210 by 297 mm (ISO 216), Letter 8.5 by 11 inches (ANSI/ASME Y14.1). */
const SIZES = { A4: [595.3, 841.9], Letter: [612, 792] } as const;

async function openDrill(name: SampleDrill): Promise<Page> {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  await showSample(page, station, name);
  await page.getByText('Paper', { exact: true }).click();
  return page;
}

async function print(page: Page, size: keyof typeof SIZES) {
  await page.getByRole('radio', { name: size, exact: true }).check();
  return await pagesOfPdf(await page.pdf({ preferCSSPageSize: true, printBackground: true }));
}

test.each(SAMPLE_DRILLS)('the %s drill on paper: nothing is cut off, on both sizes', async (name) => {
  const page = await openDrill(name);
  for (const size of ['A4', 'Letter'] as const) {
    const pages = await print(page, size);
    for (const { size: points, blankMm, text } of pages) {
      expect(points[0]).toBeCloseTo(SIZES[size][0], -1);
      expect(points[1]).toBeCloseTo(SIZES[size][1], -1);
      // Printers leave some 6 mm; what reached over a margin would be cut off.
      expect(Math.min(...Object.values(blankMm))).toBeGreaterThan(10);
      expect(text).toContain('Mirela and Ivo');
      expect(text).toMatch(/For training on manikins\s+only\./);
      expect(text).toMatch(/instructor\s+overrule it\./);
    }
    const titles = pages.map(({ text }) =>
      text
        .trim()
        .split('\n')[0]
        ?.replace(/\s+Mirela and Ivo$/, ''),
    );
    const sheets = titles.filter((title) => title?.startsWith('Sheet'));
    // Many bouts and handovers take a second page: it says whose report it is too.
    expect([...new Set(titles)]).toEqual(['Report of a drill', ...sheets, 'For Mirela', 'For Ivo']);
    expect(pages[0]?.text).toMatch(/Instructor’s name\s+Date and time\s+Signature/);
  }
});

test('with the names left out, no name is on any page', async () => {
  const page = await openDrill('poor');
  await page.getByRole('checkbox', { name: 'Leave the names out' }).check();
  const pages = await print(page, 'A4');
  for (const { text } of pages) {
    expect(text).toContain('A and B');
    expect(text).not.toMatch(/Mirela|Ivo/);
  }
  expect(pages.at(-1)?.text).toContain('For B');
});

test('on the screen nothing of the paper is there, and after printing nothing is left of it', async () => {
  const page = await openDrill('short');
  expect(await page.locator('.paper').count()).toBe(0);
  await page.pdf({ preferCSSPageSize: true });
  await page.getByText('Timing only').waitFor();
  expect(await page.locator('.paper').count()).toBe(0);
});
