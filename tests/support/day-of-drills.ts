import type { CDPSession, Page } from 'playwright-core';
import { humanEdges } from './human-pair.ts';
import { KeyPlayer } from './key-player.ts';
import { holdPageTime, type PageTime, putForwardTo, readPageTime } from './page-time.ts';
import type { StartedStation } from './started-station.ts';

/** What is there after a drill, its Debrief left and garbage collected. */
export type Standing = {
  /** The page's JavaScript, in bytes. */
  pageHeap: number;
  domNodes: number;
  listeners: number;
  /** The host's JavaScript, in bytes. */
  hostHeap: number;
  hostHandles: number;
};
export type DayOptions = {
  drills: number;
  /** From one drill's beginning to the next one's; what the drill leaves of it passes on Set-up. */
  everyMs: number;
  cycles: number;
};

const BLOCK_MS = 10_000;
const KEYS = { chest: 'KeyX', airway: 'Period' };
const SWAP_GAP_MS = 2500;
/** By turns. */
const GUIDANCE = ['Led', 'Weaned', 'Unled'];

/**
 * Drill after drill through the real page and the real host, from Set-up to every fold of the Debrief and back: what is left after
 * each. The page's clock is put forward (page-time.ts); every key goes through the browser with the time it would have had, and every line
 * to the disk.
 */
export async function liveThroughDay(
  page: Page,
  station: StartedStation,
  options: DayOptions,
): Promise<Standing[]> {
  await holdPageTime(page);
  await page.goto(station.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.getByText('Rhythm: two keys').click();
  const keys = await KeyPlayer.attach(page);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');
  const standings: Standing[] = [];
  const { nowMs: morningMs } = await readPageTime(page);
  for (let drill = 0; drill < options.drills; drill += 1) {
    await page.getByRole('radio', { name: GUIDANCE[drill % GUIDANCE.length] ?? '', exact: true }).check();
    await playDrill(page, keys, drill, options.cycles);
    await leaveDebrief(page);
    await putForwardTo(page, morningMs + (drill + 1) * options.everyMs);
    standings.push(await standing(devtools, station));
  }
  return standings;
}

async function playDrill(page: Page, keys: KeyPlayer, seed: number, cycles: number): Promise<void> {
  await page.getByRole('textbox', { name: 'First person' }).press('Enter');
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  await keys.tap('Digit1');
  const half = Math.floor(cycles / 2);
  const edges = humanEdges({ ...KEYS, seed, cycles, gaps: { [half]: SWAP_GAP_MS }, startMs: 1000 });
  const lastMs = (edges.at(-1)?.atMs ?? 0) + 1000;
  const { nowMs: beginMs } = await readPageTime(page);
  const send = (code: string, down: boolean, atMs: number, time: PageTime) =>
    keys.send(code, down, time.originEpochMs + beginMs + atMs - time.aheadMs);
  const swapMs = (edges.find(({ atMs }) => atMs > 1000 + half * 2000)?.atMs ?? lastMs) - 100;
  const calls = [
    { atMs: swapMs, code: 'Digit2' },
    { atMs: lastMs, code: 'Digit9' },
  ].flatMap(({ atMs, code }) => [
    { atMs, code, down: true },
    { atMs: atMs + 50, code, down: false },
  ]);
  const all = [...edges, ...calls].sort((one, other) => one.atMs - other.atMs);
  for (let fromMs = 0; fromMs <= lastMs + 50; fromMs += BLOCK_MS) {
    const time = await putForwardTo(page, beginMs + fromMs + BLOCK_MS);
    const now = all.filter(({ atMs }) => atMs >= fromMs && atMs < fromMs + BLOCK_MS);
    await Promise.all(now.map(({ code, down, atMs }) => send(code, down, atMs, time)));
  }
  await page.getByRole('button', { name: 'Close and debrief' }).waitFor();
}

async function leaveDebrief(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Close and debrief' }).click();
  await page.getByRole('button', { name: 'Show the figures' }).click();
  await page.locator('.headline').waitFor();
  for (const summary of await page.locator('.debrief-details > details > summary').all())
    await summary.click();
  await page.getByRole('button', { name: 'Done' }).click();
  await page.getByRole('textbox', { name: 'First person' }).waitFor();
}

async function standing(devtools: CDPSession, station: StartedStation): Promise<Standing> {
  await devtools.send('HeapProfiler.collectGarbage');
  await devtools.send('HeapProfiler.collectGarbage');
  const { metrics } = await devtools.send('Performance.getMetrics');
  const of = (wanted: string) => metrics.find(({ name }) => name === wanted)?.value ?? Number.NaN;
  const host = await station.memory();
  return {
    pageHeap: of('JSHeapUsedSize'),
    domNodes: of('Nodes'),
    listeners: of('JSEventListeners'),
    hostHeap: host.heapBytes,
    hostHandles: host.openHandles,
  };
}
