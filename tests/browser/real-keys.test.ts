import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { BodyLine } from '../../machines/journal.ts';
import { launchChromium, openPlainWindow } from '../support/chromium.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { type ServedStation, serveStation } from '../support/served-station.ts';
import { missingPrograms, VirtualDisplay } from '../support/virtual-display.ts';

/**
 * Real key events: a headed Chromium on an X display of its own, keys pressed by xdotool through the X server. Nothing of the
 * debugging protocol is in their way, and the page's focus is the display's.
 */
const missing = missingPrograms();
if (missing.length > 0) console.log(`real keys: not run, since there is no ${missing.join(', ')} here`);

async function openHeaded(
  layout: string,
): Promise<{ display: VirtualDisplay; page: Page; station: ServedStation }> {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const display = await VirtualDisplay.start();
  onTestFinished(() => display.stop());
  display.setLayout(layout);
  const browser = await launchChromium({ headless: false, display: display.name });
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  const session = await page.context().newCDPSession(page);
  // Playwright lets every page believe that it has the focus.
  await session.send('Emulation.setFocusEmulationEnabled', { enabled: false });
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  focusOn(display, 'Antiphon');
  await page.waitForFunction(() => document.hasFocus());
  return { display, page, station };
}

function focusOn(display: VirtualDisplay, title: string): void {
  const [window] = display.windowsTitled(title);
  if (window === undefined) throw new Error(`no window is titled ${title}`);
  display.focus(window);
}

type Seen = { repeats: number; printed: string[] };

/** Notes what the page is told of keys: whether auto-repeat was on, and what the layout made of them. */
async function noteKeys(page: Page): Promise<() => Promise<Seen>> {
  await page.evaluate(() => {
    const seen = { repeats: 0, printed: [] as string[] };
    Object.assign(globalThis, { seen });
    addEventListener('keydown', (event) => {
      if (event.repeat) seen.repeats += 1;
      else seen.printed.push(event.key);
    });
  });
  return () => page.evaluate(() => (globalThis as unknown as { seen: Seen }).seen);
}

async function finish(display: VirtualDisplay, page: Page, station: ServedStation): Promise<string[]> {
  display.tap('Digit9');
  await page.getByRole('button', { name: 'Close and debrief' }).click();
  await page.getByText('Ask them first').waitFor();
  const { journal } = await station.readOnlyJournal();
  return journal.lines.flatMap(({ line }) => wordsOf(line));
}

function wordsOf(line: BodyLine): string[] {
  if (line.kind === 'edge')
    return [`${line.switch} ${line.lost === true ? 'lost' : line.down ? 'down' : 'up'}`];
  if (line.kind === 'device') return [line.what];
  return line.kind === 'call' ? [line.call] : [];
}

describe.skipIf(missing.length > 0)('with real keys', () => {
  test('two keys held together, with auto-repeat on, are two presses', async () => {
    const { display, page, station } = await openHeaded('us');
    await page.getByRole('button', { name: 'Start the drill' }).click();
    await page.getByRole('button', { name: '1 Begin' }).waitFor();
    const keysSeen = await noteKeys(page);
    display.tap('Digit1');
    display.down('KeyX');
    display.down('Period');
    await page.waitForFunction(() => (globalThis as unknown as { seen: Seen }).seen.repeats >= 5);
    display.up('KeyX');
    display.up('Period');
    display.tap('KeyX');
    display.tap('KeyM');
    await page.getByText('A third key was pressed (M)').waitFor();
    expect((await keysSeen()).repeats).toBeGreaterThanOrEqual(5);
    expect(await finish(display, page, station)).toEqual([
      'begin',
      'chest down',
      'airway down',
      'chest up',
      'airway up',
      'chest down',
      'chest up',
      'third-key',
      'finish',
    ]);
  }, 60_000);

  test('keys are bound and pressed by where they are, whatever the layout prints on them', async () => {
    const { display, page, station } = await openHeaded('fr');
    await page.getByRole('button', { name: 'Bind both by pressing them' }).click();
    await page.getByRole('button', { name: 'Press the chest switch now' }).waitFor();
    display.tap('KeyQ');
    await page.getByRole('button', { name: 'Press the airway switch now' }).waitFor();
    display.tap('Semicolon');
    await page.getByText('Both were pressed today').waitFor();
    // The screen calls them what is printed on them.
    expect(await page.locator('.switch-binding:not(.instructor-keys *) kbd').allTextContents()).toEqual([
      'A',
      'M',
    ]);
    await page.getByRole('button', { name: 'Start the drill' }).click();
    await page.getByRole('button', { name: '1 Begin' }).waitFor();
    const keysSeen = await noteKeys(page);
    display.tap('Digit1');
    display.tap('KeyQ');
    display.tap('Semicolon');
    await expect.poll(async () => (await keysSeen()).printed, { timeout: 5000 }).toEqual(['&', 'a', 'm']);
    expect(await finish(display, page, station)).toEqual([
      'begin',
      'chest down',
      'chest up',
      'airway down',
      'airway up',
      'finish',
    ]);
  }, 60_000);

  test('holding both, with auto-repeat on, begins the drill and finishes it, and leaves no press', async () => {
    const { display, page, station } = await openHeaded('us');
    await page.getByText('With no instructor: hold both').click();
    await page.getByRole('radio', { name: 'Unled' }).check();
    await page.getByRole('button', { name: 'Start the drill' }).click();
    await page.getByRole('button', { name: '0 Learners’ view' }).click();
    await page.getByText('Hold both switches to begin').waitFor();
    display.down('KeyX');
    display.down('Period');
    await page.getByText('Let go, and begin').waitFor();
    display.up('KeyX');
    display.up('Period');
    await page.getByText('Begin', { exact: true }).waitFor();
    display.tap('KeyX');
    display.down('KeyX');
    display.down('Period');
    await page.getByText('Finished', { exact: true }).waitFor();
    display.up('Period');
    display.up('KeyX');
    await page.getByRole('button', { name: 'Close and debrief' }).click();
    await page.getByText('Ask them first').waitFor();
    const { journal } = await station.readOnlyJournal();
    expect(journal.lines.flatMap(({ line }) => wordsOf(line))).toEqual([
      'both-held',
      'begin',
      'chest down',
      'chest up',
      'both-held',
      'finish',
    ]);
  }, 60_000);

  test('when another window takes the focus, held keys are lost, and presses count again when it is back', async () => {
    const station = await serveStation();
    onTestFinished(() => station.close());
    const display = await VirtualDisplay.start();
    onTestFinished(() => display.stop());
    // No debugger is attached: it would let the page believe that it has the focus.
    await openWindow(display, station.loopback.address, 'Antiphon: Set-up');
    await openWindow(display, 'data:text/html,<title>Another</title>', 'Another');
    focusOn(display, 'Antiphon');
    display.type('Ada');
    display.tap('Tab');
    display.type('Ben');
    display.tap('Enter');
    await expect.poll(() => display.windowsTitled('Antiphon: Floor').length, POLL).toBe(1);
    const seen = async () =>
      (await station.readOnlyJournal()).journal.lines.flatMap(({ line }) => wordsOf(line));
    const until = (last: string) => expect.poll(async () => (await seen()).at(-1), POLL).toBe(last);
    display.tap('Digit1');
    display.down('KeyX');
    await until('chest down');
    focusOn(display, 'Another');
    await until('focus-lost');
    display.up('KeyX');
    display.tap('KeyX');
    focusOn(display, 'Antiphon');
    await until('focus-back');
    // Chromium did not see the release, and takes the same key's next press within 2 s for auto-repeat: another key comes first.
    display.tap('Period');
    display.tap('KeyX');
    display.tap('Digit9');
    await until('finish');
    expect(await seen()).toEqual([
      'begin',
      'chest down',
      'chest lost',
      'focus-lost',
      'focus-back',
      'airway down',
      'airway up',
      'chest down',
      'chest up',
      'finish',
    ]);
  }, 60_000);
});

const POLL = { timeout: 20_000, interval: 100 };

async function openWindow(display: VirtualDisplay, address: string, title: string): Promise<void> {
  const browser = openPlainWindow(address, await makeTempFolder(), display.name);
  onTestFinished(async () => {
    const ended = new Promise((resolve) => browser.once('exit', resolve));
    browser.kill();
    await ended;
  });
  await expect.poll(() => display.windowsTitled(title).length, POLL).toBe(1);
}
