import { expect, onTestFinished, test } from 'vitest';
import { replay } from '../../machines/replay.ts';
import { boutRowsOf, reportOf } from '../../machines/scoring/report.ts';
import { drawSheet, type Shape } from '../../machines/sheet-drawing.ts';
import { checkWithAxe } from '../support/axe-check.ts';
import { launchChromium } from '../support/chromium.ts';
import { openSample, showSample } from '../support/debrief-page.ts';
import { brightnessOf } from '../support/png-pixels.ts';
import { type SampleDrill, sampleDrill } from '../support/sample-drills.ts';
import { serveStation } from '../support/served-station.ts';

async function openPage(colorScheme: 'light' | 'dark' = 'light') {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme });
  return { page, station };
}

/** A sample drill's sheet, drawn outside the page. */
function drawingOf(name: SampleDrill) {
  const { open, lines } = sampleDrill(name);
  const fold = replay(
    open,
    lines.map((line, index) => ({ number: index + 2, line })),
  );
  return drawSheet({ report: reportOf(fold), rows: boutRowsOf(fold), tolerance: open.tolerance });
}

test('pointing at a row tells its figures, a click chooses it, and M leaves it out on the disk too', async () => {
  const { page, station } = await openPage();
  await showSample(page, station, 'stall');
  const { places, height } = drawingOf('stall');
  const box = await page.getByRole('listbox').boundingBox();
  const row = places[2];
  if (box === null || row === undefined) throw new Error('no sheet is shown');
  const y = box.y + ((row.y + row.height / 2) * box.height) / height;
  await page.mouse.move(box.x + 400, y);
  await page.locator('.row-title', { hasText: /^Cycle 3, at/ }).waitFor();
  await page.mouse.click(box.x + 400, y);
  await page.mouse.move(box.x + 400, 5);
  await page.keyboard.press('m');
  await page.locator('.headline', { hasText: '1 cycle left out: the switch missed it' }).waitFor();
  const { journal } = await station.readOnlyJournal();
  expect(journal.lines.at(-1)?.line).toMatchObject({ kind: 'mark', missed: true });
});

test('by keyboard the chosen row stays in sight above its words, in the dark too, and Ctrl+M is the browser’s', async () => {
  const { page, station } = await openPage('dark');
  await showSample(page, station, 'poor');
  await page.getByRole('listbox').focus();
  const hidden: number[] = [];
  for (let row = 1; row <= 60; row += 1) {
    await page.keyboard.press('ArrowDown');
    if (await page.evaluate(isBehindTheNote)) hidden.push(row);
  }
  expect(hidden).toEqual([]);
  const { lines } = (await station.readOnlyJournal()).journal;
  await page.keyboard.press('Control+m');
  await page.keyboard.press('m');
  await page.locator('.headline', { hasText: '1 cycle left out' }).waitFor();
  expect((await station.readOnlyJournal()).journal.lines).toHaveLength(lines.length + 1);
  await page.getByText('Paper', { exact: true }).click();
  await checkWithAxe(page, 'Debrief in the dark, a row chosen');
});

test('the sheet of half an hour is there in under 100 ms', async ({ annotate }) => {
  const { page, station } = await openPage();
  const times: number[] = [];
  for (let time = 0; time < 3; time += 1) {
    await openSample(page, station, 'long');
    times.push(await page.evaluate(showFigures));
    expect(await page.locator('svg.sheet text').count()).toBeGreaterThan(50);
  }
  await annotate(`from the click to the frame that shows it, ms: ${times.map(Math.round).join(', ')}`);
  // The best of three: the others have the machine's other work in them.
  expect(Math.min(...times)).toBeLessThan(100);
});

test.each(['poor', 'long'] as const)(
  'no word of the %s drill’s sheet reaches over its edge',
  async (name) => {
    const { page, station } = await openPage();
    await showSample(page, station, name);
    const outside = await page.evaluate(() => {
      const { width } = document.querySelector<SVGSVGElement>('svg.sheet')?.viewBox.baseVal ?? { width: 0 };
      const words = [...document.querySelectorAll<SVGTextElement>('svg.sheet text')];
      const isOutside = (text: SVGTextElement) => text.getBBox().x + text.getBBox().width > width;
      return { of: words.length, outside: words.filter(isOutside).map(({ textContent }) => textContent) };
    });
    expect(outside.of).toBeGreaterThan(50);
    expect(outside.outside).toEqual([]);
  },
);

/** In the page: presses the button, and gives the ms until the frame after it has been laid out. */
async function showFigures(): Promise<number> {
  const button = document.querySelector<HTMLButtonElement>('.ask-first button');
  const fromMs = performance.now();
  button?.click();
  document.querySelector('svg.sheet')?.getBoundingClientRect();
  await new Promise((resolve) => requestAnimationFrame(resolve));
  return performance.now() - fromMs;
}

test.each(['light', 'dark'] as const)(
  'without colours the shapes still tell a compression from a breath (%s)',
  async (scheme) => {
    const { page, station } = await openPage(scheme);
    await showSample(page, station, 'poor');
    await page.evaluate(() => {
      document.documentElement.style.filter = 'grayscale(1)';
      // It stays in sight over the end of a long sheet.
      document.querySelector('.row-note')?.remove();
    });
    const { shapes, height } = drawingOf('poor');
    const sheet = page.locator('svg.sheet');
    const pixels = brightnessOf(await sheet.screenshot());
    const scale = pixels.height / height;
    const paper = pixels.at(2, 2);
    /** How far a place of the drawing is from the paper's brightness. */
    const inkAt = (x: number, y: number) => Math.abs(pixels.at(x * scale, y * scale) - paper);
    const bars = shapes.filter(isMark('compression'));
    const pills = shapes.filter(isMark('breath')).filter((pill) => !bars.some((bar) => overlaps(bar, pill)));
    expect([bars.length, pills.length].every((count) => count > 50)).toBe(true);
    for (const bar of bars.filter((one) => one.width > 8))
      expect(inkAt(bar.x + bar.width / 2, bar.y + bar.height / 2)).toBeGreaterThan(80);
    for (const pill of pills) {
      expect(inkAt(pill.x + pill.width / 2, pill.y + pill.height / 2)).toBeLessThan(40);
      expect(inkAt(pill.x + pill.width / 2, pill.y + 1)).toBeGreaterThan(60);
    }
  },
);

type Mark = Extract<Shape, { width: number }>;
function isMark(ink: Shape['ink']): (shape: Shape) => shape is Mark {
  return (shape): shape is Mark => shape.ink === ink && 'width' in shape;
}
function overlaps(one: Mark, other: Mark): boolean {
  const isBeside = one.x + one.width + 2 < other.x || other.x + other.width + 2 < one.x;
  return !isBeside && Math.abs(one.y - other.y) < 10;
}

/** Runs in the page: is any of the chosen row behind the words at the window's foot? */
function isBehindTheNote(): boolean {
  const bottom = document.querySelector('#row-chosen')?.getBoundingClientRect().bottom ?? Number.NaN;
  const top = document.querySelector('.row-note')?.getBoundingClientRect().top ?? Number.NaN;
  return !(bottom <= top + 1);
}
