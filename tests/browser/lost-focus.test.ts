import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { serveStation } from '../support/served-station.ts';

test('a key held while the window loses the focus is let go as lost, and the next press counts', async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  const keys = await KeyPlayer.attach(page);
  const session = await context.newCDPSession(page);
  // Playwright lets every page believe that it has the focus; here it is to lose it.
  await session.send('Emulation.setFocusEmulationEnabled', { enabled: false });
  await page.bringToFront();
  await keys.tap('Digit1');
  await keys.send('KeyX', true);
  const other = await context.newPage();
  await other.bringToFront();
  await page.getByText('This window does not have the keyboard').waitFor();
  await page.bringToFront();
  await page.getByText('This window does not have the keyboard').waitFor({ state: 'detached' });
  await keys.send('KeyX', false);
  await keys.tap('KeyX');
  await keys.tap('Digit9');
  await page.getByRole('button', { name: 'Close and debrief' }).click();
  await page.getByText('Ask them first').waitFor();
  const { journal } = await station.readOnlyJournal();
  const seen = journal.lines.flatMap(({ line }) => {
    if (line.kind === 'edge') return [line.lost === true ? 'lost' : line.down ? 'down' : 'up'];
    return line.kind === 'device' ? [line.what] : [];
  });
  expect(seen).toEqual(['down', 'lost', 'focus-lost', 'focus-back', 'down', 'up']);
});
