import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { launchChromium } from '../support/chromium.ts';
import { humanEdges } from '../support/human-pair.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { keptJournal } from '../support/ledger-station.ts';
import { type ServedStation, serveStation } from '../support/served-station.ts';

/**
 * Takes the README's pictures: `npm run screenshots`. With `--look FOLDER` it takes every screen at several
 * sizes, in the dark and with text twice as large, to be looked at and thrown away.
 */
type Take = (name: string) => Promise<void>;
type Look = {
  name: string;
  width: number;
  height: number;
  dark?: boolean;
  textScale?: number;
  pixels?: number;
};
const KEPT_NAMES: readonly string[] = [
  'set-up',
  'floor-learners-led',
  'floor-learners-unled',
  'floor-instructor',
  'debrief-ask',
  'debrief',
  'ledger',
  'class',
];
const KEPT: Look = { name: '', width: 1280, height: 800 };
const LOOKS: readonly Look[] = [
  { name: 'plain-', width: 1280, height: 800 },
  { name: 'wide-', width: 1920, height: 1080 },
  { name: 'small-', width: 800, height: 600 },
  { name: 'dark-', width: 1280, height: 800, dark: true },
  { name: 'large-text-', width: 1280, height: 800, textScale: 2 },
  { name: 'zoomed-', width: 640, height: 400, pixels: 2 },
];
const PAIR = { chest: 'KeyX', airway: 'Period' };

const lookFolder = process.argv[2] === '--look' ? process.argv[3] : undefined;
if (lookFolder === undefined) await takeAll('assets/screenshots', KEPT);
else for (const look of LOOKS) await takeAll(lookFolder, look);

async function takeAll(folder: string, look: Look): Promise<void> {
  await mkdir(folder, { recursive: true });
  const station = await serveStation();
  const browser = await launchChromium();
  try {
    const page = await browser.newPage({
      viewport: { width: look.width, height: look.height },
      colorScheme: look.dark === true ? 'dark' : 'light',
      deviceScaleFactor: look.pixels ?? 1,
      bypassCSP: look.textScale !== undefined,
    });
    const take = async (name: string) => {
      if (look === KEPT && !KEPT_NAMES.includes(name)) return;
      if (look.textScale !== undefined) {
        await page.addStyleTag({ content: `html { font-size: ${16 * look.textScale}px }` });
      }
      await page.screenshot({ path: join(folder, `${look.name}${name}.png`) });
    };
    await page.goto(station.loopback.address);
    await page.getByRole('textbox', { name: 'First person' }).fill('Mirela');
    await page.getByRole('textbox', { name: 'Second person' }).fill('Ivo');
    await page.getByRole('radio', { name: 'Led', exact: true }).check();
    await take('set-up');
    await page.getByText('Its numbers, where each is from').click();
    await page.getByRole('button', { name: 'Change Chest switch' }).click();
    await page.keyboard.press('4');
    await page.getByText('Manikin: switches').click();
    await page.evaluate(() => scrollTo(0, 0));
    await take('set-up-refusal');
    await page.getByText('Its numbers, where each is from').scrollIntoViewIfNeeded();
    await take('set-up-guideline');
    await page.keyboard.press('Escape');
    if (look !== KEPT) await takeRigPages(page, take);
    if (look !== KEPT) await takePlanPages(page, take);
    await page.getByText('Rhythm: two keys').click();
    await page.getByRole('textbox', { name: 'First person' }).press('Enter');
    await playLed(page, take);
    await playUnled(page, take);
    await takeLedger(page, station, take);
    await takeClass(page, take);
  } finally {
    await browser.close();
    await station.close();
  }
}

/** Drills of a week, two people in all of them and a third in some. */
async function takeLedger(page: Page, station: ServedStation, take: Take): Promise<void> {
  for (let index = 0; index < 12; index += 1) {
    const { fileName, text } = keptJournal({
      seed: index + 1,
      minutes: 1,
      plan: index % 4 === 0 ? 'cold-minute' : 'two-minutes-and-swap',
      people: index % 3 === 2 ? { A: 'Mirela', B: 'Sanna' } : { A: 'Mirela', B: 'Ivo' },
      openedAt: `2026-03-${String(2 + Math.floor(index / 2)).padStart(2, '0')}T09:${10 + index}:00.000Z`,
    });
    await writeFile(join(station.journalFolder, fileName), text);
  }
  await page.getByRole('button', { name: 'Done: back to Set-up' }).click();
  await page.getByRole('button', { name: 'Ledger: every drill' }).click();
  await page.locator('.ledger-row').nth(5).waitFor();
  await take('ledger');
  await page.getByRole('combobox', { name: 'Person' }).selectOption({ index: 1 });
  await page.getByRole('button', { name: /’s page$/ }).click();
  await page.locator('.trends').first().waitFor();
  await take('ledger-person');
  await page.keyboard.press('F9');
  await take('help');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Back to the list' }).click();
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
}

async function takeClass(page: Page, take: Take): Promise<void> {
  await page.getByRole('button', { name: 'Class: names and turns' }).click();
  const names = ['Mirela', 'Ivo', 'Sanna', 'Dario', 'Noor', 'Pilar', 'Tomas'];
  await page.getByRole('textbox', { name: 'Names' }).fill(names.join('\n'));
  await page.getByRole('spinbutton', { name: 'Stations' }).fill('2');
  await page.getByRole('button', { name: 'Add these names' }).click();
  await page.getByRole('button', { name: /^This turn was held/ }).waitFor();
  await page.evaluate(() => scrollTo(0, 0));
  await take('class');
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByRole('button', { name: 'All settings and their defaults' }).click();
  await take('settings');
}

async function takePlanPages(page: Page, take: Take): Promise<void> {
  const choice = page.getByRole('combobox', { name: 'Plan', exact: true });
  await choice.selectOption('both-techniques');
  await page.getByText('6 legs,').click();
  await choice.scrollIntoViewIfNeeded();
  await take('set-up-plan');
  await page.getByRole('button', { name: 'Plans: change' }).click();
  await take('plans');
  await page.getByRole('button', { name: 'Duplicate: The whole sequence' }).click();
  await take('plan-form');
  await page.getByRole('button', { name: 'Back without saving' }).click();
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await choice.selectOption('two-minutes-then-swap');
  await page.getByRole('button', { name: 'Start the drill' }).click();
  await page.getByText('Begin is yours to call').waitFor();
  await take('floor-plan');
  await page.getByRole('button', { name: 'Leave this drill' }).click();
  await page.getByRole('button', { name: 'Leave it' }).click();
  await choice.selectOption('');
}

async function takeRigPages(page: Page, take: Take): Promise<void> {
  await page.getByRole('button', { name: 'How to build the rig' }).click();
  await take('rig-guide');
  for (const part of ['The chest switch:', 'The airway switch:', 'To the computer:', 'In the room']) {
    await page.getByRole('heading', { name: part }).evaluate((heading) => heading.scrollIntoView());
    await take(`rig-guide-${part.toLowerCase().replaceAll(/[^a-z]+/g, '-')}`);
  }
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByRole('button', { name: 'Check the rig' }).click();
  await take('rig-check-start');
  await page.getByRole('button', { name: 'Start the check' }).click();
  await take('rig-check');
  for (const key of ['x', '.', '1', '1']) await page.keyboard.press(key);
  await page.getByText('The chest switch is still up').waitFor();
  await take('rig-check-refused');
  await page.keyboard.press('9');
  await take('rig-check-failed');
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByText('was not passed').scrollIntoViewIfNeeded();
  await take('set-up-rig-failed');
}

async function playLed(page: Page, take: Take): Promise<void> {
  const keys = await KeyPlayer.attach(page);
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  await keys.tap('Digit1');
  await keys.tap('Digit0');
  await page.getByText('breathe', { exact: true }).waitFor();
  await take('floor-learners-led');
  await keys.tap('Digit0');
  await page.getByRole('button', { name: 'Leave this drill' }).click();
  await take('floor-leave');
  await page.getByRole('button', { name: 'Leave it' }).click();
}

async function playUnled(page: Page, take: Take): Promise<void> {
  await page.getByRole('radio', { name: 'Unled' }).check();
  await page.getByRole('textbox', { name: 'First person' }).press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  const keys = await KeyPlayer.attach(page);
  await take('floor-not-begun');
  await keys.tap('Digit1');
  const firstMs = Date.now();
  await keys.play(humanEdges({ ...PAIR, seed: 4, cycles: 15 }), { fromEpochMs: firstMs, atOnce: true });
  await keys.send('Digit2', true, firstMs + 30_500);
  await keys.send('Digit2', false, firstMs + 30_550);
  await keys.tap('Digit0');
  await page.getByText('Swap', { exact: true }).waitFor();
  await take('floor-learners-unled');
  await keys.tap('Digit0');
  await keys.play(humanEdges({ ...PAIR, seed: 9, cycles: 14 }), {
    fromEpochMs: firstMs + 33_000,
    atOnce: true,
  });
  await page.getByText('of 25 cycles').waitFor();
  await take('floor-instructor');
  await keys.send('Digit9', true, firstMs + 63_000);
  await keys.send('Digit9', false, firstMs + 63_050);
  await page.getByRole('button', { name: 'Close and debrief' }).waitFor();
  await take('floor-finished');
  await keys.tap('Enter');
  await page.getByText('Ask them first').waitFor();
  await take('debrief-ask');
  await page.getByRole('button', { name: 'Show the figures' }).click();
  await page.getByText('Timing only').waitFor();
  await take('debrief');
  for (const summary of await page.locator('.debrief-details summary').all()) await summary.click();
  await page.locator('.debrief-details').scrollIntoViewIfNeeded();
  await take('debrief-details');
}
