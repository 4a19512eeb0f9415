import type { Page } from 'playwright-core';
import { launchChromium } from '../support/chromium.ts';
import { serveStation } from '../support/served-station.ts';

const SECONDS = 15;

/** Main-thread ms of a minute in the real window: with nothing to do, and while it counts and shows the pulse. */
export async function countCost(): Promise<{ idleMs: number; countingMs: number }> {
  const station = await serveStation();
  const browser = await launchChromium();
  try {
    const page = await browser.newPage();
    await page.goto(station.loopback.address);
    await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
    const idleMs = await minuteOf(page);
    await page.getByRole('button', { name: 'Speak it without hands' }).click();
    await page.locator('.exercise-count', { hasText: 'one' }).waitFor();
    return { idleMs, countingMs: await minuteOf(page) };
  } finally {
    await browser.close();
    await station.close();
  }
}

async function minuteOf(page: Page): Promise<number> {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');
  const taskMs = async () => {
    const { metrics } = await devtools.send('Performance.getMetrics');
    return (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN) * 1000;
  };
  const before = await taskMs();
  await page.waitForTimeout(SECONDS * 1000);
  const took = (await taskMs()) - before;
  await devtools.detach();
  return (took * 60) / SECONDS;
}
