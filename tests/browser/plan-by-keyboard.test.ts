import { readFile } from 'node:fs/promises';
import { expect, onTestFinished, test } from 'vitest';
import { parsePlan } from '../../machines/plans/plan-file.ts';
import { READY_MADE } from '../../machines/plans/ready-made.ts';
import { launchChromium } from '../support/chromium.ts';
import { serveStation } from '../support/served-station.ts';

test('a plan is duplicated, changed, saved, shared as a file and removed, all by keyboard', async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(station.loopback.address);
  /** Tab by tab to the control of that name, and no further than the page has controls. */
  const tabTo = async (name: string) => {
    for (let tabs = 0; tabs < 120; tabs += 1) {
      const focused = await page.evaluate(() => {
        const { activeElement: on } = document;
        const label =
          on instanceof HTMLInputElement || on instanceof HTMLSelectElement ? on.labels?.[0] : null;
        return (
          on?.getAttribute('aria-label') ?? label?.firstElementChild?.textContent ?? on?.textContent ?? ''
        );
      });
      if (focused.startsWith(name)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`no way to ${name} by Tab`);
  };
  await page.getByRole('textbox', { name: 'First person' }).waitFor();
  await tabTo('Plans: change');
  await page.keyboard.press('Enter');
  await tabTo('Duplicate: Cold minute');
  await page.keyboard.press('Enter');
  await tabTo('Name');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('By keyboard');
  await tabTo('Technique');
  await page.keyboard.type('two-f');
  await tabTo('Seconds');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('45');
  await tabTo('Save the plan');
  await page.keyboard.press('Enter');
  await tabTo('Save as a file: By keyboard');
  const downloading = page.waitForEvent('download');
  await page.keyboard.press('Enter');
  const download = await downloading;
  const [leg] = READY_MADE['cold-minute'].legs;
  const plan = {
    ...READY_MADE['cold-minute'],
    name: 'By keyboard',
    legs: [{ ...leg, technique: 'two-finger', seconds: 45 }],
  };
  expect(download.suggestedFilename()).toBe('By keyboard.antiphon-plan.json');
  expect(parsePlan(await readFile(await download.path(), 'utf8'))).toEqual({ ok: true, plan });
  await page.keyboard.press('Shift+Tab');
  await tabTo('Remove: By keyboard');
  await page.keyboard.press('Enter');
  await tabTo('Remove it');
  await page.keyboard.press('Enter');
  await page.getByText('None yet: duplicate one').waitFor();
  expect(station.mistakes).toEqual([]);
});
