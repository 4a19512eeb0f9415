import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { type PdfPage, pagesOfPdf } from '../support/pdf-pages.ts';
import { serveStation } from '../support/served-station.ts';

const SEVEN = ['Mirela', 'Ivo', 'Theodora', 'Boris', 'Anna-Katharina', 'Damir', 'Zoë'];
/** Paper sizes in points: A4 is 210 by 297 mm (ISO 216), Letter 8.5 by 11 inches (ANSI/ASME Y14.1). */
const SIZES = { A4: [595.3, 841.9], Letter: [612, 792] } as const;

/** A page of a served station, in the dark theme, whose "Print" is only counted. */
async function openPage(): Promise<Page> {
  const station = await serveStation();
  onTestFinished(async () => {
    expect(station.mistakes).toEqual([]);
    await station.close();
  });
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  await page.addInitScript(() => {
    window.print = () => {
      document.title = 'printed';
    };
  });
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).waitFor();
  return page;
}

/** Tab by tab to the control of that name, and no further than the page has controls. */
async function tabTo(page: Page, name: string): Promise<void> {
  for (let tabs = 0; tabs < 120; tabs += 1) {
    const focused = await page.evaluate(() => {
      const { activeElement: on } = document;
      const label =
        on instanceof HTMLInputElement || on instanceof HTMLTextAreaElement ? on.labels?.[0] : null;
      return on?.getAttribute('aria-label') ?? label?.textContent ?? on?.textContent ?? '';
    });
    if (focused.startsWith(name)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`no way to ${name} by Tab`);
}

async function press(page: Page, name: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Enter');
}

async function print(page: Page): Promise<PdfPage[]> {
  return await pagesOfPdf(await page.pdf({ preferCSSPageSize: true, printBackground: true }));
}

/** Who is seen in the turn that comes now, by role, and who waits. */
async function nextTurn(page: Page): Promise<{ heading: string; seats: string[]; waits: string | null }> {
  const rest = page.locator('.next-rest');
  return {
    heading: (await page.locator('#class-next').textContent()) ?? '',
    seats: await page.locator('.next-groups dd').allTextContents(),
    waits: (await rest.count()) === 0 ? null : await rest.textContent(),
  };
}

test('a class of seven at two stations, a latecomer among them, is run and printed by keyboard', async () => {
  const page = await openPage();
  await press(page, 'Class: names and turns');
  await page.getByText('Nobody is here yet.').waitFor();
  // The names are what the keys go to first.
  await page.keyboard.insertText(SEVEN.join('\n'));
  await tabTo(page, 'Stations');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('2');
  await press(page, 'Add these names');
  const first = await nextTurn(page);
  expect(first.heading).toBe('Next: Turn 1 8 minutes');
  const waiting = (first.waits ?? 'nobody').replace('waits: ', '');
  expect([...first.seats, waiting].sort()).toEqual([...SEVEN].sort());
  await tabTo(page, 'This turn was held');
  await page.keyboard.press('Enter');
  await page.getByText('Turn 1 is held.').waitFor();
  // One key a turn: it is still where the next press goes.
  await page.keyboard.press('Enter');
  await page.getByText('Turn 2 is held.').waitFor();
  await tabTo(page, 'Latecomers');
  await page.keyboard.type('Oona');
  await press(page, 'Add these names');
  const third = await nextTurn(page);
  expect(third.heading).toBe('Next: Turn 3 8 minutes');
  // Who lacks everything comes first; nobody who held both roles is before her.
  expect(third.seats).toContain('Oona');
  await tabTo(page, 'A4');
  await page.keyboard.press('ArrowRight');
  await press(page, 'Print the list');
  expect(await page.title()).toBe('printed');
  const [paper] = await print(page);
  expect(paper?.size[0]).toBeCloseTo(SIZES.Letter[0], -1);
  for (const name of [...SEVEN, 'Oona']) expect(paper?.text).toContain(name);
  await press(page, 'Back to Set-up');
  await press(page, 'Class: names and turns');
  // All of it was on the disk.
  await page.reload();
  await press(page, 'Class: names and turns');
  await page.locator('#class-next').waitFor();
  expect(await nextTurn(page)).toEqual(third);
  await press(page, 'Take these two names: Station 1');
  const [chest = '', airway = ''] = third.seats;
  expect(await page.getByRole('textbox', { name: 'First person' }).inputValue()).toBe(chest);
  expect(await page.getByRole('textbox', { name: 'Second person' }).inputValue()).toBe(airway);
  expect(await page.getByRole('radio', { name: chest, exact: true }).isChecked()).toBe(true);
});

test.each([
  ['seven at two stations', SEVEN, '2'],
  ['forty at twelve', Array.from({ length: 40 }, (_, index) => `Person ${index + 1}`), '12'],
  [
    'five with names as long as they may be',
    SEVEN.slice(0, 5).map((name) => `${name} ${'Aa'.repeat(30)}`),
    '1',
  ],
] as const)(
  'the list of %s on paper: large, whole, no turn torn, on both sizes',
  async (_, names, stations) => {
    const page = await openPage();
    await page.getByRole('button', { name: 'Class: names and turns' }).click();
    await page.getByRole('textbox', { name: 'Names' }).fill(names.join('\n'));
    await page.getByRole('spinbutton', { name: 'Stations' }).fill(stations);
    await page.getByRole('button', { name: 'Add these names' }).click();
    const turns = await page.locator('.class-plan .class-turns tbody').count();
    for (const size of ['A4', 'Letter'] as const) {
      await page.getByRole('radio', { name: size, exact: true }).check();
      const pages = await print(page);
      let listed = 0;
      for (const { size: points, blankMm, text } of pages) {
        expect(points[0]).toBeCloseTo(SIZES[size][0], -1);
        expect(points[1]).toBeCloseTo(SIZES[size][1], -1);
        // Printers leave some 6 mm; what reached over a margin would be cut off.
        expect(Math.min(...Object.values(blankMm))).toBeGreaterThan(10);
        expect(text).toMatch(/^\s*Class\s+Turns 1 to/);
        expect(text).toMatch(/station\s+chest\s+airway\s+observer/);
        expect(text).toMatch(/For training on manikins\s+only\./);
        const here = text.match(/^Turn \d+ +from minute \d+/gm) ?? [];
        // A page begins with a turn's own line: none is carried over from the page before.
        expect(text.split(/observer/)[1]?.trimStart()).toMatch(/^Turn \d+/);
        listed += here.length;
      }
      expect(listed).toBe(turns);
      await page.emulateMedia({ media: 'print' });
      await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
      const px = await page
        .locator('.class-paper td')
        .first()
        .evaluate((cell) => Number.parseFloat(getComputedStyle(cell).fontSize));
      // Capitals of some 4.5 mm (tool default): read from where one stands before a wall.
      expect((px * 72) / 96).toBe(18);
      await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
      await page.emulateMedia({ media: null });
      expect(await page.locator('.paper').count()).toBe(0);
    }
  },
);
