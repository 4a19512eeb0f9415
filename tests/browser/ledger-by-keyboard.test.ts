import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { checkWithAxe as check } from '../support/axe-check.ts';
import { launchChromium } from '../support/chromium.ts';
import { keptJournal } from '../support/ledger-station.ts';
import { type ServedStation, serveStation } from '../support/served-station.ts';
import { tabTo } from '../support/tab-to.ts';

/** Twelve short drills of a week: Adda and Ben in every second one, cold minutes among them, and a file that is left alone. */
async function stationWithDrills(): Promise<ServedStation> {
  const station = await serveStation();
  onTestFinished(() => station.close());
  await mkdir(station.journalFolder);
  for (let index = 0; index < 12; index += 1) {
    const { fileName, text } = keptJournal({
      seed: index + 1,
      minutes: 0.4,
      plan: index % 3 === 0 ? 'cold-minute' : 'steady',
      technique: index % 4 === 2 ? 'two-finger' : 'two-thumb',
      people: index % 2 === 0 ? { A: 'Adda', B: 'Ben' } : { A: 'Cy', B: 'Ben' },
      openedAt: `2026-03-${String(2 + Math.floor(index / 2)).padStart(2, '0')}T09:${10 + index}:00.000Z`,
    });
    await writeFile(join(station.journalFolder, fileName), text);
  }
  await writeFile(join(station.journalFolder, 'newer.antiphon.jsonl'), '{"kind":"open","version":2}\n');
  return station;
}

/** The files under a folder in which a name stands as a word, by this test's own search. */
async function filesWith(name: string, folder: string): Promise<string[]> {
  const found: string[] = [];
  for (const one of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!one.isFile()) continue;
    const text = await readFile(join(one.parentPath, one.name), 'utf8');
    if (new RegExp(`\\b${name}\\b`, 'iu').test(text)) found.push(one.name);
  }
  return found;
}

const rows = (page: Page) => page.locator('.ledger-row').count();

test('drills are found, opened and put right, and a person removed with the proof of it, all by keyboard', async () => {
  const station = await stationWithDrills();
  const folder = dirname(station.journalFolder);
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).waitFor();
  await page.keyboard.type('Adda');
  await page.keyboard.press('Tab');
  await page.keyboard.type('Ben');
  const press = async (name: string) => {
    await tabTo(page, name);
    await page.keyboard.press('Enter');
  };
  await press('Ledger: every drill');
  await page.getByText('12 drills', { exact: true }).waitFor();
  expect([await page.title(), await rows(page)]).toEqual(['Antiphon: Ledger', 12]);
  await tabTo(page, 'Words in');
  await page.keyboard.type('cold');
  await page.getByText('4 drills', { exact: true }).waitFor();
  await tabTo(page, 'Adda and Ben');
  await page.keyboard.press('Enter');
  await page.getByText('Ask them first').waitFor();
  await page.keyboard.press('Enter');
  await press('Done');
  await page.getByText('4 drills', { exact: true }).waitFor();
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Adda and Ben');
  await press('Change: Adda and Ben');
  await tabTo(page, 'Adda is to be');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('Ada');
  await press('Put right Adda in every drill');
  await page.getByText('The name is put right in 6 drills.').waitFor();
  expect(await filesWith('Adda', folder)).toEqual([]);
  expect(await filesWith('Ada', folder)).toHaveLength(8);
  await press('Ada’s page');
  await page.getByRole('heading', { name: 'As compressor, manikin rig' }).waitFor();
  await press('Remove Ada from this station');
  await tabTo(page, 'Type “Ada”');
  await page.keyboard.type('Ada');
  await page.keyboard.press('Enter');
  await page.getByText('6 drills without the name now').waitFor();
  await page.getByText('The whole folder was searched for “Ada”: 0 files.').waitFor();
  expect(await filesWith('Ada', folder)).toEqual([]);
  expect(await filesWith('Ben', folder)).toHaveLength(14);
  await press('Back to the list');
  await page.getByText('12 drills', { exact: true }).waitFor();
  expect(await page.getByRole('button', { name: 'someone and Ben', exact: true }).count()).toBe(6);
  await tabTo(page, 'Back to Set-up');
  await page.keyboard.press('Enter');
  await page.getByRole('textbox', { name: 'First person' }).waitFor();
  expect(await page.getByRole('textbox', { name: 'First person' }).inputValue()).toBe('');
  expect(await page.getByRole('textbox', { name: 'Second person' }).inputValue()).toBe('Ben');
  expect(station.mistakes).toEqual([]);
});

test.each([
  ['light' as const, 1280, 800],
  ['dark' as const, 1280, 800],
  ['light' as const, 640, 400],
])('axe finds nothing wrong with the Ledger (%s, %i by %i)', async (colorScheme, width, height) => {
  const station = await stationWithDrills();
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ colorScheme, viewport: { width, height } });
  await page.goto(station.loopback.address);
  await page.getByRole('button', { name: 'Ledger: every drill' }).click();
  await page.getByText('12 drills', { exact: true }).waitFor();
  await page.getByText('One file was left alone').click();
  await check(page, 'Ledger');
  await page.getByRole('button', { name: 'Change: Adda and Ben' }).first().click();
  await page.getByRole('button', { name: 'Remove this drill' }).click();
  await check(page, 'Ledger, a drill to be changed');
  await page.getByRole('button', { name: 'Adda’s page' }).click();
  await page.locator('.trend').first().waitFor();
  for (const summary of await page.locator('summary').all()) await summary.click();
  await page.getByLabel('Type “Adda”').fill('Ben');
  await page.getByRole('button', { name: 'Remove the person' }).click();
  await page.getByText('That is not the name.').waitFor();
  await check(page, 'A person’s page');
  const widths = await page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth]);
  expect(widths[0]).toBeLessThanOrEqual(widths[1] ?? 0);
  await page.getByLabel('Type “Adda”').fill('Adda');
  await page.getByRole('button', { name: 'Remove the person' }).click();
  await page.getByText('0 files.').waitFor();
  await check(page, 'A person removed');
});
