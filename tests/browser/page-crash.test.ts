import { expect, onTestFinished, test } from 'vitest';
import { launchChromium } from '../support/chromium.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { serveStation } from '../support/served-station.ts';

/** A real renderer is killed in Chromium, in the middle of a drill; the window that is opened after it goes on with the drill. */
test('a window whose process dies in a drill is opened again in the same drill, and nothing acknowledged is lost', async () => {
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
  const written = linesWritten(station.host, 9);
  for (const code of ['Digit1', 'KeyX', 'KeyX', 'KeyX', 'Period']) await keys.tap(code);
  await written;

  const crashed = page.waitForEvent('crash');
  await page.goto('chrome://crash').catch(() => undefined);
  await crashed;

  const again = await context.newPage();
  await again.goto(station.loopback.address);
  await again.getByRole('button', { name: '9 Finish' }).waitFor();
  const after = await KeyPlayer.attach(again);
  for (const code of ['KeyX', 'Digit9']) await after.tap(code);
  await again.getByRole('button', { name: 'Close and debrief' }).waitFor();
  await after.tap('Enter');
  await again.getByText('Ask them first').waitFor();
  const { journal } = await station.readOnlyJournal();
  const kinds = journal.lines.map(({ line }) => line.kind).filter((kind) => kind !== 'device');
  expect(kinds).toEqual(['call', ...Array.from({ length: 10 }, () => 'edge'), 'call', 'close']);
  expect([journal.isClosed, station.mistakes]).toEqual([true, []]);
});

/** Resolves when so many calls and edges are on the disk. */
function linesWritten(
  host: { onLinesWritten: (listener: (written: { lines: readonly unknown[] }) => void) => unknown },
  count: number,
): Promise<void> {
  let seen = 0;
  return new Promise((resolve) => {
    host.onLinesWritten(({ lines }) => {
      seen += lines.length;
      if (seen >= count) resolve();
    });
  });
}
