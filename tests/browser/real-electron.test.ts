import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { _electron } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { findElectronPackage, findElectronRuntime } from '../../electron/electron-shell.ts';
import { PLACES_FILE } from '../../electron/window-places.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { VirtualDisplay } from '../support/virtual-display.ts';

/**
 * The real app in the real Electron, wherever its runtime is on the machine. It drives the checkout's app, for the packed one's
 * fuses refuse the debugging that Playwright needs.
 */
const PROJECT = join(import.meta.dirname, '../..');
const electronPackage = findElectronPackage();
const runtime = electronPackage === null ? null : findElectronRuntime(electronPackage);
const NOT_RUN = 'not run: no Electron runtime';
if (runtime === null) console.log(`real Electron: ${NOT_RUN}`);

test('the app opens its window, locked down, runs a drill, comes back from a crash in it and keeps it', async (context) => {
  if (runtime === null) return context.skip(NOT_RUN);
  const folder = await makeTempFolder();
  const display = await startDisplay();
  const app = await _electron.launch({
    executablePath: runtime,
    // Root cannot have Chromium's sandbox; only tests are run so.
    args: [PROJECT, ...(process.getuid?.() === 0 ? ['--no-sandbox'] : [])],
    env: { ...(process.env as Record<string, string>), ...display, ANTIPHON_FOLDER: folder },
  });
  onTestFinished(() => app.close());
  const page = await app.firstWindow();
  expect(page.url()).toBe('antiphon-app://station/');
  expect(await page.evaluate(() => [typeof Reflect.get(globalThis, 'require'), crossOriginIsolated])).toEqual(
    ['undefined', true],
  );

  await page.getByRole('button', { name: 'Understood' }).press('Enter');
  await page.getByText('step 1 of 7').waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  const learners = app.waitForEvent('window');
  await page.keyboard.press('F2');
  expect((await learners).url()).toBe('antiphon-app://station/?window=learners');
  for (const key of ['1', 'x', 'x', 'x', '.', 'x']) await page.keyboard.press(key);

  await app.evaluate(({ BrowserWindow }) => {
    const windows = BrowserWindow.getAllWindows();
    windows
      .find((one) => !one.webContents.getURL().includes('learners'))
      ?.webContents.forcefullyCrashRenderer();
  });
  // The window comes back by itself, on the Floor of the same drill.
  const shown = () =>
    app.evaluate(async ({ BrowserWindow }) => {
      const windows = BrowserWindow.getAllWindows();
      const one = windows.find((any) => !any.webContents.getURL().includes('learners'))?.webContents;
      if (one === undefined || one.isCrashed()) return '';
      return (await one.executeJavaScript('document.body.innerText')) as string;
    });
  await expect.poll(shown, { timeout: 20_000 }).toContain('Finish');

  await app.evaluate(({ app: electron }) => electron.quit());
  const [journal = ''] = await readdir(join(folder, 'journals'));
  const text = await readFile(join(folder, 'journals', journal), 'utf8');
  expect(text.split('\n').filter((line) => line.includes('"kind":"edge"'))).toHaveLength(10);
  expect(JSON.parse(await readFile(join(folder, PLACES_FILE), 'utf8'))).toMatchObject({ version: 1 });
}, 120_000);

/** A display of its own where there is none: CI machines have no screen. */
async function startDisplay(): Promise<Record<string, string>> {
  if (process.platform !== 'linux' || process.env.DISPLAY) return {};
  const display = await VirtualDisplay.start();
  onTestFinished(() => display.stop());
  return { DISPLAY: display.name };
}
