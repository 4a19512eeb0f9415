import { dirname, join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { SettingsStore } from '../../electron/settings-store.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { checkWithAxe } from '../support/axe-check.ts';
import { launchChromium } from '../support/chromium.ts';
import { SETTINGS } from '../support/drills.ts';
import { humanEdges } from '../support/human-pair.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { serveStation } from '../support/served-station.ts';

const PAIR = { chest: 'KeyX', airway: 'Period' };

test.each([
  ['light' as const, 1280, 800],
  ['dark' as const, 640, 400],
])(
  'the whole sequence by the instructor’s keys, from ventilation to the Debrief (%s, %i by %i)',
  async (colorScheme, width, height) => {
    const station = await serveStation();
    onTestFinished(() => station.close());
    await new SettingsStore(join(dirname(station.journalFolder), 'settings.json')).save({
      ...SETTINGS,
      switches: { chest: { kind: 'key', code: PAIR.chest }, airway: { kind: 'key', code: PAIR.airway } },
      rigCheck: {
        outcome: 'passed',
        at: new Date().toISOString(),
        techniques: ['two-thumb', 'two-finger'],
        stances: ['foot-end', 'head-end', 'side'],
      },
      guideline: 'uk-european-style',
    });
    const browser = await launchChromium();
    onTestFinished(() => browser.close());
    const page = await browser.newPage({ colorScheme, viewport: { width, height } });
    await page.goto(station.loopback.address);
    await page.getByRole('button', { name: 'Start the drill' }).click();
    await page.getByRole('button', { name: '6 Begin with ventilation' }).waitFor();
    const keys = await KeyPlayer.attach(page);
    const fromMs = Date.now();
    const tapAt = async (code: string, atMs: number, lastsMs = 50) => {
      await keys.send(code, true, fromMs + atMs);
      await keys.send(code, false, fromMs + atMs + lastsMs);
    };

    await tapAt('Digit6', 0);
    await page.getByText('Ventilating').waitFor();
    for (let breath = 0; breath < 5; breath += 1) await tapAt(PAIR.airway, 1000 + 3000 * breath, 2500);
    await tapAt('F1', 16_000);
    await page.getByText('Chest rises: met').waitFor();
    for (let breath = 0; breath < 15; breath += 1) await tapAt(PAIR.airway, 17_000 + 2000 * breath, 1000);
    await tapAt('F5', 47_500);
    await page.getByText('Oxygen raised: met').waitFor();
    await checkWithAxe(page, 'Floor, ventilating');

    await tapAt('Digit6', 48_000);
    await page.getByText('Heart-rate check').waitFor();
    await tapAt('Backquote', 48_500);
    await tapAt('Digit5', 48_600);
    await tapAt('Digit5', 48_700);
    await tapAt('Backquote', 48_800);
    await page.getByText('55, silently: on the learners’ view').waitFor();
    await checkWithAxe(page, 'Floor, entering a heart rate');
    await tapAt('Enter', 50_000);
    await page.getByText('55 last announced').waitFor();
    await keys.tap('Digit0');
    // The drill's clock runs with the page, and the lines are ahead of it: what is shown for 10 s is still shown.
    await page.getByText('55', { exact: true }).waitFor();
    await checkWithAxe(page, 'Floor, learners’ view with a heart rate');
    await keys.tap('Digit0');
    await tapAt('Digit6', 51_000);
    // Under 60 was announced: what comes now are compressions.
    await page.getByText('Waiting for the first compression.').waitFor();

    await keys.play(humanEdges({ ...PAIR, seed: 4, cycles: 9 }), {
      fromEpochMs: fromMs + 52_000,
      atOnce: true,
    });
    await page.getByText('Under way').waitFor();
    await tapAt('F3', 71_000);
    await tapAt('F3', 71_200);
    await page.getByText('Depth about one third: not met').waitFor();
    await checkWithAxe(page, 'Floor, ticks under way');
    await tapAt('Digit9', 72_000);
    await page.getByRole('button', { name: 'Close and debrief' }).click();
    await page.getByRole('button', { name: 'Show the figures' }).click();
    await page.getByText('Ventilation before compressions', { exact: true }).click();
    await page.getByText('What was seen', { exact: true }).click();
    await page.getByText('5 of 5: 2.5, 2.5, 2.5, 2.5, 2.5 s').waitFor();
    await page.getByText('Depth about one third: not met').waitFor();
    await checkWithAxe(page, 'Debrief of the whole sequence');

    const { journal } = await station.readOnlyJournal();
    const { report } = scoreJournal(journal);
    expect(report.ventilationStage).toMatchObject({
      breaths: 20,
      effectiveBy: 'instructor',
      isLongEnough: true,
      beganUnder60: true,
      inflations: { inRange: 5, breathsPerMinAfter: expect.closeTo(30, 1) },
    });
    expect(
      report.bouts.map(({ ticks }) => Object.entries(ticks).map(([item, { seen }]) => `${item}: ${seen}`)),
    ).toEqual([['chest-rise: met', 'oxygen-raised: met', 'depth: not met']]);
    expect(station.mistakes).toEqual([]);
  },
  60_000,
);
