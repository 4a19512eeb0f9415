import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { serveStation } from '../support/served-station.ts';

test('the page opened without the station’s secret is readable and says what to do', async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(station.loopback.origin);
  await page.getByText('This window has lost its station').waitFor();
  expect(await page.getByText('npm start').count()).toBe(1);
});

test('a station that ends while Set-up is shown is told in a sentence, and nothing is lost from the form', async () => {
  const station = await serveStation();
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await station.close();
  await page.keyboard.press('Enter');
  await page.getByText('That did not work: the station does not answer.').waitFor();
  expect(await page.getByRole('textbox', { name: 'First person' }).inputValue()).toBe('Ada');
});

test('a drill left in the middle is closed without a finish, listed, and opened again from Set-up after a reload', async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  await page.keyboard.press('1');
  await page.getByText('Waiting for the first compression').waitFor();
  await page.getByRole('button', { name: 'Leave this drill' }).click();
  await page.getByRole('button', { name: 'Leave it' }).click();
  await page.getByText('Earlier drills on this station').waitFor();
  await page.reload();
  await page.getByRole('button', { name: /^Debrief of Ada and Ben/ }).click();
  await page.getByText('Ask them first').waitFor();
  const { journal } = await station.readOnlyJournal();
  expect(journal.lines.map(({ line }) => line.kind)).toEqual(['call', 'close']);
});
