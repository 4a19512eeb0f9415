import { onTestFinished, test } from 'vitest';
import { checkWithAxe as check } from '../support/axe-check.ts';
import { launchChromium } from '../support/chromium.ts';
import { humanEdges } from '../support/human-pair.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { serveStation } from '../support/served-station.ts';

test.each([
  ['light' as const, 1280, 800],
  ['dark' as const, 1280, 800],
  // As a window of 1280 by 800 is with everything twice as large.
  ['light' as const, 640, 400],
])('axe finds nothing wrong with any screen (%s, %i by %i)', async (colorScheme, width, height) => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ colorScheme, viewport: { width, height } });
  await page.goto(station.loopback.address);
  const { origin, secret } = station.loopback;
  const learners = await browser.newPage({ colorScheme, viewport: { width, height } });
  await learners.goto(`${origin}/?window=learners#${secret}`);
  await learners.getByText('The drill is shown here').waitFor();
  await check(learners, 'Learners’ window, waiting');
  await learners.close();
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.getByText('Its numbers, where each is from').click();
  await page.getByText('Manikin: switches').click();
  await page.getByText('Instructor’s keys', { exact: true }).click();
  await page.getByRole('button', { name: 'Change Swap' }).click();
  await page.keyboard.press('3');
  await page.getByText('That is another call’s key').waitFor();
  await check(page, 'Set-up, manikin, a key refused for a call');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'How to build the rig' }).click();
  await check(page, 'Build-the-rig guide');
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByRole('button', { name: 'Measure the switches' }).click();
  await page.keyboard.press('x');
  await check(page, 'Measure the switches');
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByRole('button', { name: 'Check the rig' }).click();
  await check(page, 'Rig check, start');
  await page.getByRole('button', { name: 'Start the check' }).click();
  await check(page, 'Rig check, switches not known yet');
  for (const key of ['x', '.', '1', '1']) await page.keyboard.press(key);
  await page.getByText('The chest switch is still up').waitFor();
  await check(page, 'Rig check, a step not passed');
  await page.keyboard.press('9');
  await check(page, 'Rig check, failed');
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByRole('combobox', { name: 'Plan', exact: true }).selectOption('both-techniques');
  await page.getByText('6 legs,').click();
  await check(page, 'Set-up, with a plan');
  await page.getByRole('button', { name: 'Plans: change' }).click();
  await page.getByText('3 legs, 3:10').click();
  await check(page, 'Plans');
  await page.getByRole('button', { name: 'Duplicate: The whole sequence' }).click();
  await page.getByRole('spinbutton', { name: 'Seconds' }).first().fill('1');
  await page.getByRole('button', { name: 'Save the plan' }).click();
  await page.getByText('Not saved: leg 1').waitFor();
  await check(page, 'A plan being changed');
  await page.getByRole('button', { name: 'Back without saving' }).click();
  await page.getByRole('button', { name: 'Back to Set-up' }).click();
  await page.getByRole('combobox', { name: 'Plan', exact: true }).selectOption('two-minutes-then-swap');
  await page.getByRole('button', { name: 'Start the drill' }).click();
  await page.getByText('Begin is yours to call').waitFor();
  await check(page, 'Floor, with a plan');
  await page.getByRole('button', { name: 'Leave this drill' }).click();
  await page.getByRole('button', { name: 'Leave it' }).click();
  await page.getByRole('combobox', { name: 'Plan', exact: true }).selectOption('');
  await page.getByText('Rhythm: two keys').click();
  await page.getByRole('radio', { name: 'Led', exact: true }).check();
  await check(page, 'Set-up, rhythm');
  await page.getByRole('button', { name: 'Start the drill' }).click();
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  await check(page, 'Floor, not begun');
  const keys = await KeyPlayer.attach(page);
  await keys.tap('Digit1');
  const fromEpochMs = Date.now();
  await keys.play(humanEdges({ seed: 4, cycles: 9, chest: 'KeyX', airway: 'Period' }), {
    fromEpochMs,
    atOnce: true,
  });
  await page.locator('.floor .sheet').waitFor();
  await check(page, 'Floor, instructor’s view');
  await page.getByRole('button', { name: 'Leave this drill' }).click();
  await check(page, 'Floor, leaving');
  await page.getByRole('button', { name: 'Stay' }).click();
  await keys.tap('Digit0');
  await page.getByText('breathe', { exact: true }).waitFor();
  await check(page, 'Floor, learners’ view');
  await keys.tap('Digit0');
  await keys.send('Digit9', true, fromEpochMs + 20_000);
  await page.getByRole('button', { name: 'Close and debrief' }).waitFor();
  await check(page, 'Floor, finished');
  await page.getByRole('button', { name: 'Close and debrief' }).click();
  await page.getByText('Ask them first').waitFor();
  await check(page, 'Debrief, ask them first');
  await page.getByRole('button', { name: 'Show the figures' }).click();
  for (const summary of await page.locator('summary').all()) await summary.click();
  await check(page, 'Debrief');
});
