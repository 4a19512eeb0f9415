import { describe, expect, onTestFinished, test } from 'vitest';
import { openPlainWindow } from '../support/chromium.ts';
import { makeTempFolder } from '../support/folder-for-test.ts';
import { serveStation } from '../support/served-station.ts';
import { missingPrograms, VirtualDisplay } from '../support/virtual-display.ts';

/** Two app windows of one headed Chromium on an X display of their own; keys and focus go through the X server. */
const missing = missingPrograms();
if (missing.length > 0)
  console.log(`two real windows: not run, since there is no ${missing.join(', ')} here`);

const POLL = { timeout: 20_000, interval: 100 };
const INSTRUCTORS = 'Antiphon: Floor';
const LEARNERS = 'Antiphon: Learners’ window';

describe.skipIf(missing.length > 0)('with real keys and two real windows', () => {
  test('F2 opens the learners’ window; a key that goes down in one and up in the other is one press, and no focus is lost', async () => {
    const station = await serveStation();
    onTestFinished(() => station.close());
    const display = await VirtualDisplay.start();
    onTestFinished(() => display.stop());
    const browser = openPlainWindow(station.loopback.address, await makeTempFolder(), display.name);
    onTestFinished(async () => {
      const ended = new Promise((resolve) => browser.once('exit', resolve));
      browser.kill();
      await ended;
    });
    const focusOn = (title: string) => {
      const [window] = display.windowsTitled(title);
      if (window === undefined) throw new Error(`no window is titled ${title}`);
      display.focus(window);
    };
    const untilThere = (title: string) =>
      expect.poll(() => display.windowsTitled(title).length, POLL).toBe(1);
    const seen = async (): Promise<string[]> =>
      (await station.readOnlyJournal()).journal.lines.flatMap(({ line }) => {
        if (line.kind === 'edge')
          return [`${line.switch} ${line.lost === true ? 'lost' : line.down ? 'down' : 'up'}`];
        if (line.kind === 'device') return [line.what];
        return line.kind === 'call' ? [line.call] : [];
      });
    const until = (last: string) => expect.poll(async () => (await seen()).at(-1), POLL).toBe(last);
    const withFocus = () =>
      station.host.currentWindows?.windows.flatMap((one) => (one.hasFocus ? [one.role] : [])) ?? [];

    await untilThere('Antiphon: Set-up');
    focusOn('Antiphon');
    display.tap('F2');
    await untilThere(LEARNERS);
    focusOn('Antiphon: Set-up');
    display.type('Ada');
    display.tap('Tab');
    display.type('Ben');
    display.tap('Enter');
    await untilThere(INSTRUCTORS);
    await expect.poll(() => station.host.currentWindows?.windows.length, POLL).toBe(2);
    display.tap('Digit1');
    await until('begin');
    const started = (await seen()).length;
    display.down('KeyX');
    await until('chest down');
    focusOn(LEARNERS);
    await expect.poll(withFocus, POLL).toEqual(['learners']);
    display.up('KeyX');
    await until('chest up');
    display.down('Period');
    await until('airway down');
    focusOn(INSTRUCTORS);
    await expect.poll(withFocus, POLL).toEqual(['instructor']);
    display.up('Period');
    await until('airway up');
    display.tap('Digit9');
    await until('finish');
    expect((await seen()).slice(started)).toEqual([
      'chest down',
      'chest up',
      'airway down',
      'airway up',
      'finish',
    ]);
  }, 90_000);
});
