import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import type { BodyLine, OpenLine } from '../../machines/journal.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import { planCallOf } from '../../machines/plans/plan-drill.ts';
import { formatPlan } from '../../machines/plans/plan-file.ts';
import { newPlan, practise } from '../../machines/plans/ready-made.ts';
import { unattendedCalls } from '../../machines/plans/unattended.ts';
import { rehearse } from '../../machines/rehearsal/rehearse.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { launchChromium } from '../support/chromium.ts';
import { openLine } from '../support/journal-builder.ts';
import { type KeyEdge, KeyPlayer } from '../support/key-player.ts';
import { wordsOf } from '../support/plan-bench.ts';
import { type ServedStation, serveStation } from '../support/served-station.ts';

/**
 * Ten minutes by a plan, four swaps, both techniques and both ends, from Set-up to the report, through the built page in
 * Debian's Chromium. Nobody calls anything: the pair's keys are a rehearsal's, the calls are the plan's. The page's clock is
 * put forward from key to key; with ANTIPHON_REAL_TIME=1 the same is played in real time (eleven minutes).
 */
const isRealTime = process.env.ANTIPHON_REAL_TIME === '1';
const WARNED = { by: 'itself', warningSeconds: 10 } as const;
const leg = (changes: Parameters<typeof practise>[0]) =>
  practise({ guidance: 'unled', seconds: 120, next: WARNED, ...changes });
const PLAN: Plan = {
  ...newPlan('Ten minutes'),
  begin: WARNED,
  legs: [
    leg({}),
    leg({ compressor: 'swap' }),
    leg({ compressor: 'swap', technique: 'two-finger' }),
    leg({ compressor: 'swap', stance: 'head-end', airway: 'secured' }),
    leg({ compressor: 'swap', airway: 'secured' }),
  ],
};
const CALLS = [
  '10000 begin',
  '130000 swap',
  '250000 swap',
  '250000 technique two-finger',
  '370000 swap',
  '370000 technique two-thumb',
  '370000 stance head-end',
  '370000 airway secured',
  '490000 swap',
  '490000 stance foot-end',
  '610000 finish',
];
const SWITCH_KEYS: Record<string, string> = { chest: 'KeyX', airway: 'Period' };
/** Real keys come a moment after the window has opened the drill, and its clock ticks every 250 ms. */
const REAL_TIME_SLACK_MS = 300;

test('ten minutes by a plan run unattended from Set-up to the report', {
  timeout: isRealTime ? 900_000 : 300_000,
}, async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(error.message));
  if (!isRealTime) await page.clock.install({ time: new Date('2026-03-02T09:30:00Z') });
  await setUp(page, station);

  const pair = rehearsedPair();
  const keys = await KeyPlayer.attach(page);
  const startedMs = Date.now();
  if (isRealTime) await playInRealTime(page, keys, pair);
  else await playForward(page, keys, pair);
  const playedMs = Date.now() - startedMs;

  await page.getByRole('button', { name: 'Close and debrief' }).waitFor();
  await page.keyboard.press('Enter');
  await page.getByText('Ask them first').waitFor();
  await page.getByRole('button', { name: 'Show the figures' }).click();
  await page.getByText('Timing only:').waitFor();

  const { journal } = await station.readOnlyJournal();
  expect([journal.isClosed, journal.open.plan]).toEqual([true, PLAN]);
  expectCalls(journal.lines.map(({ line }) => line));
  expectEdges(
    journal.lines.map(({ line }) => line),
    pair,
  );
  const { report } = scoreJournal(journal);
  expect(
    report.bouts.map(({ roles, technique, stance }) => `${roles.compressor} ${technique} ${stance}`),
  ).toEqual([
    'A two-thumb foot-end',
    'B two-thumb foot-end',
    'A two-finger foot-end',
    'B two-thumb head-end',
    'A two-thumb foot-end',
  ]);
  expect(report.handovers.map(({ reasons, outcome }) => [reasons.join(' '), outcome])).toEqual([
    ['swap', 'taken up'],
    ['swap technique', 'taken up'],
    ['swap technique stance', 'taken up'],
    ['swap stance', 'taken up'],
  ]);
  expect(report.bouts.every(({ cycles }) => cycles.total > 45)).toBe(true);
  expect(problems).toEqual([]);
  expect(station.mistakes).toEqual([]);
  console.log(`ten minutes of drill in ${(playedMs / 1000).toFixed(1)} s, ${journal.lines.length} lines`);
});

/** The plan comes in as a file, is chosen, and the drill is started: all by keyboard but the file. */
async function setUp(page: Page, station: ServedStation): Promise<void> {
  await page.goto(station.loopback.address);
  await page.getByRole('button', { name: 'Plans: change' }).press('Enter');
  await page.locator('input[type="file"]').setInputFiles({
    name: 'ten-minutes.antiphon-plan.json',
    mimeType: 'application/json',
    buffer: Buffer.from(formatPlan(PLAN)),
  });
  await page.getByText('“Ten minutes” is taken in.').waitFor();
  await page.getByRole('button', { name: 'Back to Set-up' }).press('Enter');
  await page.getByRole('combobox', { name: 'Plan', exact: true }).focus();
  await page.keyboard.type('Ten');
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  if (!isRealTime) await page.clock.pauseAt(new Date('2026-03-02T10:30:00Z'));
  await page.keyboard.press('Enter');
  await page.getByText('Begin is called by itself').waitFor();
}

/** A synthetic pair that hears the plan's calls, and does what is called. */
function rehearsedPair(): KeyEdge[] {
  const open: OpenLine = openLine({ rig: 'rhythm' });
  const script = unattendedCalls(PLAN, open, 0).map(({ atMs, request }) => ({ ...request, atMs }));
  expect(script.map(({ atMs, ...request }) => `${atMs} ${wordsOf(request)}`)).toEqual(CALLS);
  const slow = { swapPauseMs: 3000, seamlessRate: 0, slowRate: 0, takenRate: 0 };
  const { lines } = rehearse({
    seed: 11,
    script,
    rig: 'rhythm',
    binding: 'place',
    guidance: 'unled',
    handovers: slow,
  });
  return lines.flatMap((line) =>
    line.kind === 'edge' ? [{ atMs: line.at, code: SWITCH_KEYS[line.switch] ?? '', down: line.down }] : [],
  );
}

/** Puts the page's clock forward from key to key; at every leg it waits for the host's answer, as time does not. */
async function playForward(page: Page, keys: KeyPlayer, edges: readonly KeyEdge[]): Promise<void> {
  let nowMs = 0;
  let legs = 0;
  const until = async (ms: number) => {
    if (ms > nowMs) await page.clock.runFor(ms - nowMs);
    nowMs = Math.max(nowMs, ms);
  };
  for (const { atMs, code, down } of edges) {
    const legMs = 10_000 + legs * 120_000;
    if (atMs > legMs && legs < PLAN.legs.length) {
      // The window's clock ticks every 250 ms from the drill's opening on, and so just then.
      await until(legMs);
      legs += 1;
      await page.getByText(`leg ${legs} of 5`).waitFor();
    }
    await until(atMs);
    await keys.send(code, down);
  }
  await until(610_250);
}

async function playInRealTime(page: Page, keys: KeyPlayer, edges: readonly KeyEdge[]): Promise<void> {
  await keys.play(edges, { fromEpochMs: Date.now() });
  await page.getByRole('button', { name: 'Close and debrief' }).waitFor({ timeout: 60_000 });
}

function expectCalls(lines: readonly BodyLine[]): void {
  const calls = lines.flatMap((line) => {
    const request = planCallOf(line);
    return request === null || line.kind !== 'call' ? [] : [{ atMs: line.at, words: wordsOf(request) }];
  });
  expect(calls.map(({ words }) => words)).toEqual(CALLS.map((call) => call.slice(call.indexOf(' ') + 1)));
  // A call never stands before a line that is in the journal already: in real time an edge may have come before the tick.
  const lateMs = calls.map(({ atMs }, index) => atMs - Number.parseInt(CALLS[index] ?? '', 10));
  expect(lateMs.filter((ms) => ms < 0 || ms > (isRealTime ? REAL_TIME_SLACK_MS : 0))).toEqual([]);
}

function expectEdges(lines: readonly BodyLine[], pair: readonly KeyEdge[]): void {
  const written = lines.flatMap((line) => (line.kind === 'edge' ? [line] : []));
  expect(written.map((line) => `${SWITCH_KEYS[line.switch]} ${line.down}`)).toEqual(
    pair.map(({ code, down }) => `${code} ${down}`),
  );
  if (!isRealTime) expect(written.map(({ at }) => at)).toEqual(pair.map(({ atMs }) => atMs));
}
