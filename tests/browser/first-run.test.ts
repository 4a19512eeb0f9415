import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { checkWithAxe as check } from '../support/axe-check.ts';
import { launchChromium } from '../support/chromium.ts';
import { humanEdges } from '../support/human-pair.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { serveStation } from '../support/served-station.ts';

async function open(isFresh: boolean, viewport = { width: 1280, height: 800 }) {
  const station = await serveStation(undefined, { isFresh });
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ viewport });
  await page.goto(station.loopback.address);
  return { station, page };
}

const focused = (page: Page) => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');

test.each([
  [1280, 800],
  [640, 400],
])(
  'a new station goes from its cautions through the walk to Set-up by keyboard alone (%i by %i)',
  async (width, height) => {
    const { station, page } = await open(true, { width, height });
    await page.getByRole('button', { name: 'Understood' }).waitFor();
    // The first caution is what is seen first, also where the button is out of sight.
    expect(await page.evaluate(() => scrollY)).toBe(0);
    await check(page, 'cautions');
    await page.keyboard.press('Enter');
    for (let step = 1; step <= 7; step += 1) {
      await page.getByText(`step ${step} of 7`).waitFor();
      expect(await page.getByText('Invented pair: nobody is pressing').isVisible()).toBe(true);
      await check(page, `walk through, step ${step}`);
      await page.keyboard.press('Enter');
    }
    await page.getByRole('textbox', { name: 'First person' }).waitFor();
    const { settings } = JSON.parse(await readFile(join(station.folder, 'settings.json'), 'utf8'));
    expect(Date.parse(settings.cautionsReadAt)).toBeGreaterThan(0);
    expect(await readdir(station.journalFolder).catch(() => [])).toEqual([]);
    await page.reload();
    await page.getByRole('textbox', { name: 'First person' }).waitFor();
    expect(await page.getByRole('button', { name: 'Understood' }).count()).toBe(0);
  },
);

test('the invented drill goes on by itself: words of the count follow each other, cycles come', async () => {
  const { page } = await open(true);
  await page.getByRole('button', { name: 'Understood' }).press('Enter');
  await page.getByText('step 1 of 7').waitFor();
  await page.keyboard.press('Enter');
  await page.getByText('breathe', { exact: true }).waitFor();
  await page.getByText('one', { exact: true }).waitFor();
  await page.keyboard.press('Enter');
  await page.getByText('Under way').waitFor();
  await page.getByLabel('8 cycles so far').first().waitFor();
  // Its keys are for show.
  await page.keyboard.press('2');
  await page.keyboard.press('Escape');
  await page.getByRole('textbox', { name: 'First person' }).waitFor();
});

test('F9 is help over Set-up, Escape closes it, and the focus is back', async () => {
  const { page } = await open(false);
  await page.getByRole('textbox', { name: 'First person' }).focus();
  await page.keyboard.type('Ada');
  await page.keyboard.press('F9');
  await page.getByRole('dialog').waitFor();
  expect(await focused(page)).toContain('Close');
  await check(page, 'help on Set-up');
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  // A name that gets the focus is selected, as ever.
  await page.keyboard.type('m');
  expect(await page.getByRole('textbox', { name: 'First person' }).inputValue()).toBe('m');
  await page.keyboard.press('F9');
  await page.getByRole('button', { name: 'Two-minute walk through' }).press('Enter');
  await page.getByText('step 1 of 7').waitFor();
  await page.keyboard.press('Escape');
  expect(await page.getByRole('textbox', { name: 'First person' }).isVisible()).toBe(true);
  await page.getByRole('button', { name: 'All settings and their defaults' }).press('Enter');
  await check(page, 'all settings');
});

test('help beside a drill leaves its switches and the instructor’s keys alone; the learners’ view has none', async () => {
  const { station, page } = await open(false);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.getByRole('radio', { name: 'Deutsch' }).check();
  await page.getByRole('radio', { name: 'Led', exact: true }).check();
  await page.getByRole('textbox', { name: 'First person' }).press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  const keys = await KeyPlayer.attach(page);
  await keys.tap('F9');
  await page.getByText('The drill goes on').waitFor();
  await keys.tap('Digit1');
  const fromEpochMs = Date.now();
  await keys.play(humanEdges({ seed: 4, cycles: 3, chest: 'KeyX', airway: 'Period' }), {
    fromEpochMs,
    atOnce: true,
  });
  await page.locator('.floor .sheet').waitFor();
  await check(page, 'Floor, help beside it');
  await keys.tap('Escape');
  await page.getByText('The drill goes on').waitFor({ state: 'detached' });
  await keys.tap('Digit0');
  await page.getByText('Luft', { exact: true }).waitFor();
  await keys.tap('F9');
  expect(await page.locator('.help').count()).toBe(0);
  await check(page, 'Floor, learners’ view in German');
  const { journal } = await station.readOnlyJournal();
  const edges = journal.lines.filter(({ line }) => line.kind === 'edge');
  expect(edges.length).toBe(3 * 8);
  const third = journal.lines.filter(({ line }) => line.kind === 'device' && line.what === 'third-key');
  expect(third).toEqual([]);
});
