import type { BrowserContext, Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import type { CountLine } from '../../machines/journal.ts';
import { launchChromium } from '../support/chromium.ts';
import { KeyPlayer } from '../support/key-player.ts';
import { type ServedStation, serveStation } from '../support/served-station.ts';

type Shown = { page: Page; keys: KeyPlayer };

/** Playwright lets every page believe that it has the focus; here it is to move between them. */
async function unpretend(context: BrowserContext, page: Page): Promise<Shown> {
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setFocusEmulationEnabled', { enabled: false });
  return { page, keys: await KeyPlayer.attach(page) };
}

async function focusOn({ page }: Shown): Promise<void> {
  await page.bringToFront();
  await page.waitForFunction(() => document.hasFocus());
}

/** A station with a drill in the instructor's window. */
async function startDrill(guidance?: string) {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const context = await browser.newContext();
  const first = await context.newPage();
  await first.goto(station.loopback.address);
  await first.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await first.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  if (guidance !== undefined) await first.getByText(guidance, { exact: true }).click();
  await first.getByRole('button', { name: 'Start the drill' }).click();
  await first.getByRole('button', { name: '1 Begin' }).waitFor();
  const instructors = await unpretend(context, first);
  await focusOn(instructors);
  return { station, context, instructors };
}

async function openOther(context: BrowserContext, from: Page, words: string): Promise<Shown> {
  const opening = context.waitForEvent('page');
  await from.getByRole('button', { name: words }).click();
  return await unpretend(context, await opening);
}

/** What the journal says of presses and of the focus, with the times of the edges. */
async function readWords(station: ServedStation): Promise<{ words: string[]; times: number[] }> {
  const { journal } = await station.readOnlyJournal();
  const words: string[] = [];
  const times: number[] = [];
  for (const { line } of journal.lines) {
    if (line.kind === 'edge') {
      words.push(`${line.switch} ${line.lost === true ? 'lost' : line.down ? 'down' : 'up'}`);
      times.push(line.at);
    } else if (line.kind === 'device') words.push(line.what);
    else if (line.kind === 'call') words.push(line.call);
  }
  return { words, times };
}

async function readCounts(station: ServedStation): Promise<CountLine[]> {
  const { journal } = await station.readOnlyJournal();
  return journal.lines.flatMap(({ line }) => (line.kind === 'count' ? [line] : []));
}

/** The page's process dies, as it does when somebody ends it. */
async function crash(context: BrowserContext, { page }: Shown): Promise<void> {
  const crashed = page.waitForEvent('crash');
  const killer = await context.newCDPSession(page);
  // Nobody is left to answer.
  void killer.send('Page.crash').catch(() => undefined);
  await crashed;
}

const POLL = { timeout: 10_000, interval: 50 };
const CYCLE = ['chest', 'chest', 'chest', 'airway'].flatMap((name) => [`${name} down`, `${name} up`]);

test('a press that goes down in one window and up in the other is whole, and so is the journal when one is killed', async () => {
  const { station, context, instructors } = await startDrill();
  const learners = await openOther(context, instructors.page, 'Open the learners’ window');
  await learners.page.getByText('Ada compresses').waitFor();
  await focusOn(instructors);
  await instructors.keys.tap('Digit1');
  await expect.poll(async () => (await readWords(station)).words.at(-1), POLL).toBe('begin');
  const started = (await readWords(station)).words.length;

  // Down here, up there, to and fro; every edge has the time that an operating system would give it.
  const fromEpochMs = Date.now() + 50;
  let edges = 0;
  for (let cycle = 0; cycle < 2; cycle += 1) {
    for (const [press, code] of ['KeyX', 'KeyX', 'KeyX', 'Period'].entries()) {
      const atMs = fromEpochMs + cycle * 2000 + press * 500;
      const [one, other] = press % 2 === 0 ? [instructors, learners] : [learners, instructors];
      await focusOn(one);
      await one.keys.send(code, true, atMs);
      await focusOn(other);
      await other.keys.send(code, false, atMs + 150);
      edges += 2;
      await expect.poll(async () => (await readWords(station)).words.length, POLL).toBe(started + edges);
    }
  }
  await expect
    .poll(async () => (await readWords(station)).words.slice(started), POLL)
    .toEqual([...CYCLE, ...CYCLE]);
  const { times } = await readWords(station);
  const lengths = times.flatMap((at, index) => (index % 2 === 1 ? [at - (times[index - 1] ?? 0)] : []));
  const worstMs = Math.max(...lengths.map((length) => Math.abs(length - 150)));
  console.log(`two windows: presses over both, off by ${worstMs.toFixed(3)} ms at the most`);
  // The pages' clocks are apart by the seconds between their loading; half a slow ping of each may remain.
  expect(worstMs).toBeLessThan(10);

  // Both fold the same lines: the learners' window shows the same sheet when it is asked for.
  await learners.page.getByRole('button', { name: 'Instructor’s view' }).click();
  await learners.page.getByText('so far').or(learners.page.getByText('a row a cycle')).first().waitFor();
  const sheetOf = ({ page }: Shown) => page.locator('.floor-sheet').innerHTML();
  await expect.poll(async () => (await sheetOf(learners)) === (await sheetOf(instructors)), POLL).toBe(true);

  // The instructor's window is killed with a switch held down in it.
  await focusOn(instructors);
  await instructors.keys.send('KeyX', true, fromEpochMs + 4000);
  await expect.poll(async () => (await readWords(station)).words.length, POLL).toBe(started + 17);
  await crash(context, instructors);
  await focusOn(learners);
  await learners.keys.send('KeyX', false, fromEpochMs + 4150);
  for (const [press, code] of ['KeyX', 'KeyX', 'Period', 'KeyX'].entries()) {
    const atMs = fromEpochMs + 4500 + press * 500;
    await learners.keys.send(code, true, atMs);
    await learners.keys.send(code, false, atMs + 150);
  }
  await learners.keys.tap('Digit9');
  await expect.poll(async () => (await readWords(station)).words.at(-1), POLL).toBe('finish');

  // The instructor's window is opened again, finds the drill, and closes it; the learners' window waits for the next.
  const again = await openOther(context, learners.page, 'Open the instructor’s window');
  await again.page.getByRole('button', { name: 'Close and debrief' }).waitFor();
  expect(await sheetOf(again)).toBe(await sheetOf(learners));
  await again.page.getByRole('button', { name: 'Close and debrief' }).click();
  await again.page.getByText('Ask them first').waitFor();
  await learners.page.getByText('The drill is shown here as soon as').waitFor();
  expect((await readWords(station)).words.slice(started)).toEqual([
    ...CYCLE,
    ...CYCLE,
    ...CYCLE,
    'chest down',
    'chest up',
    'finish',
  ]);
  expect(station.mistakes).toEqual([]);
}, 90_000);

test('a window that is reloaded in the middle finds its drill again, and the count goes on in the same rhythm', async () => {
  const { station, instructors } = await startDrill('Led');
  const counts = () => readCounts(station);
  await instructors.keys.tap('Digit1');
  await expect.poll(async () => (await counts()).length, POLL).toBeGreaterThan(0);
  await instructors.page.reload();
  await instructors.page.getByRole('button', { name: '9 Finish' }).waitFor();
  await instructors.page.getByText('led: given now').waitFor();
  const isGivenAgain = async () => {
    const lines = await counts();
    const stopped = lines.findIndex(({ what }) => what === 'stopped');
    return stopped > 0 && lines.slice(stopped).some(({ what }) => what === 'given');
  };
  await expect.poll(isGivenAgain, POLL).toBe(true);
  const given = (await counts()).flatMap((line) => (line.what === 'given' ? [line.fromMs] : []));
  const apartMs = (given.at(-1) ?? 0) - (given[0] ?? 0);
  expect(Math.abs(apartMs - 2000 * Math.round(apartMs / 2000))).toBeLessThan(20);
  expect(apartMs).toBeGreaterThan(1000);
  await instructors.keys.tap('Digit9');
  await instructors.page.getByRole('button', { name: 'Close and debrief' }).click();
  await instructors.page.getByText('Ask them first').waitFor();
  expect((await readWords(station)).words.filter((word) => word === 'begin' || word === 'finish')).toEqual([
    'begin',
    'finish',
  ]);
}, 60_000);

test('the window that gives the count is killed: the other gives it from the next “one”, in the same rhythm, by its own sound', async () => {
  const { station, context, instructors } = await startDrill('Led');
  const learners = await openOther(context, instructors.page, 'Open the learners’ window');
  await learners.page.getByText('Ada compresses').waitFor();
  await focusOn(learners);
  // A first key lets a page make sound.
  await learners.keys.tap('KeyX');
  await focusOn(instructors);
  await instructors.keys.tap('Digit1');
  const isHeard = async () =>
    (await readCounts(station)).some((line) => line.what === 'given' && line.by === 'sound');
  await expect.poll(isHeard, POLL).toBe(true);
  await learners.page.getByText('breathe', { exact: true }).waitFor();
  await crash(context, instructors);
  const takenOver = async () => {
    const lines = await readCounts(station);
    return lines
      .slice(lines.findIndex(({ what }) => what === 'stopped') + 1)
      .some(({ what }) => what === 'given');
  };
  await expect
    .poll(async () => (await readCounts(station)).filter(({ what }) => what === 'stopped').length, POLL)
    .toBe(1);
  await expect.poll(takenOver, POLL).toBe(true);
  const lines = await readCounts(station);
  const stopped = lines.findIndex(({ what }) => what === 'stopped');
  const before = lines[stopped - 1];
  const after = lines[stopped + 1];
  const end = lines[stopped];
  if (before?.what !== 'given' || after?.what !== 'given' || end?.what !== 'stopped')
    throw new Error('no hand-over');
  expect([before.by, after.by]).toEqual(['sound', 'sound']);
  const apartMs = after.fromMs - before.fromMs;
  expect(Math.abs(apartMs - 2000 * Math.round(apartMs / 2000))).toBeLessThan(20);
  expect(end.lastMs).toBeGreaterThan(before.fromMs);
  expect(end.lastMs).toBeLessThan(after.fromMs);
}, 60_000);
