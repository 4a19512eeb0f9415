import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { SOUND_TROUBLES } from '../../machines/words/screen-sound.ts';
import { launchChromium } from '../support/chromium.ts';
import { humanEdges } from '../support/human-pair.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { type ServedStation, serveStation } from '../support/served-station.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());

type Trouble = keyof typeof SOUND_TROUBLES;
const TROUBLES: { trouble: Trouble; prepare: (page: Page) => Promise<unknown> }[] = [
  {
    trouble: 'sound-missing',
    prepare: (page) => page.route('**/tick-2*.wav', (route) => route.fulfill({ status: 404, body: '' })),
  },
  {
    trouble: 'sound-corrupt',
    prepare: (page) => page.route('**/tick-2*.wav', (route) => route.fulfill({ body: 'no sound' })),
  },
  {
    trouble: 'no-web-audio',
    prepare: (page) =>
      page.addInitScript(() => {
        Reflect.deleteProperty(window, 'AudioContext');
        Reflect.deleteProperty(window, 'webkitAudioContext');
      }),
  },
  {
    trouble: 'no-device',
    prepare: (page) =>
      page.addInitScript(() => {
        navigator.mediaDevices.enumerateDevices = () => Promise.resolve([]);
      }),
  },
];

async function openSetUp(
  prepare: (page: Page) => Promise<unknown>,
): Promise<{ page: Page; station: ServedStation }> {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const page = await browser.newPage();
  onTestFinished(() => page.close());
  await prepare(page);
  await page.goto(station.loopback.address);
  return { page, station };
}

describe('a trouble of the sound', () => {
  it.each(TROUBLES)(
    '$trouble is said on Set-up, and the drill works, its count shown',
    async ({ trouble, prepare }) => {
      const { page, station } = await openSetUp(prepare);
      await page.getByRole('status', { name: 'The sound' }).getByText(SOUND_TROUBLES[trouble]).waitFor();
      await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
      await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
      await page.getByRole('radio', { name: 'Led', exact: true }).check();
      await page.getByRole('button', { name: 'Start the drill' }).click();
      await page.getByRole('button', { name: '1 Begin' }).waitFor();
      const keys = await KeyPlayer.attach(page);
      await keys.tap('Digit1');
      await keys.tap('Digit0');
      await page.getByText('three', { exact: true }).waitFor();
      await keys.play(humanEdges({ seed: 2, cycles: 3, chest: 'KeyX', airway: 'Period' }), { atOnce: true });
      await keys.tap('Digit9');
      await page.getByRole('button', { name: 'Close and debrief' }).click();
      await page.getByText('Ask them first').waitFor();
      const { journal } = await station.readOnlyJournal();
      const kinds = journal.lines.map(({ line }) => line.kind);
      expect(kinds.filter((kind) => kind === 'edge').length).toBe(24);
      const given = journal.lines.flatMap(({ line }) =>
        line.kind === 'count' && line.what === 'given' ? [line] : [],
      );
      // A page that lists no loudspeaker plays all the same.
      expect(given[0]?.by).toBe(trouble === 'no-device' ? 'sound' : 'sight');
    },
  );

  it('blocked until a gesture is said, and is over with the first key', async () => {
    const { page } = await openSetUp(() => Promise.resolve());
    const said = page.getByText(SOUND_TROUBLES['audio-blocked']);
    await said.waitFor();
    await page.keyboard.press('KeyA');
    await said.waitFor({ state: 'detached' });
  });
});

it('“hear the count” sounds and shows its words, then is over', async () => {
  const { page } = await openSetUp(() => Promise.resolve());
  await page.getByRole('button', { name: 'Hear the count' }).click();
  for (const word of ['one', 'two', 'three', 'breathe'])
    await page.locator('.exercise-count', { hasText: word }).waitFor();
  await page.getByRole('button', { name: 'Hear the count', exact: true }).waitFor();
  expect(await page.locator('.exercise-count').textContent()).toBe('');
});
