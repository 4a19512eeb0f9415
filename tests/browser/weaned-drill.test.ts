import { expect, onTestFinished, test } from 'vitest';
import type { CountOrder } from '../../machines/count/count-order.ts';
import { DrillDriver } from '../../machines/drill-driver.ts';
import type { CountLine } from '../../machines/journal.ts';
import type { Journal } from '../../machines/journal-reader.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { launchChromium } from '../support/chromium.ts';
import { type KeyEdge, KeyPlayer } from '../support/key-player.ts';
import { serveStation } from '../support/served-station.ts';

const T = 2000;
/** Nine cycles in place, then eleven whose second compression is 200 ms late: silent after eight, back after 15 s. */
const GOOD = 9;
const CYCLES = 20;
/** A sound lasts up to 0.3 s, and is looked for every 0.1 s. */
const LOOK_MS = 100;
const TAIL_MS = 500;

declare global {
  interface Window {
    /** When the master output was looked at, in page ms, and whether anything sounded since the last look. */
    looks: { atMs: number; isLoud: boolean }[];
  }
}

test('a weaned drill falls silent and comes back at exactly the cycles that its replayed journal says', {
  timeout: 120_000,
}, async () => {
  const station = await serveStation();
  onTestFinished(() => station.close());
  const browser = await launchChromium();
  onTestFinished(() => browser.close());
  const page = await browser.newPage();
  await page.addInitScript(listenAtOutput, LOOK_MS);
  await page.goto(station.loopback.address);
  await page.getByRole('textbox', { name: 'First person' }).fill('Ada');
  await page.getByRole('textbox', { name: 'Second person' }).fill('Ben');
  await page.getByRole('radio', { name: 'Weaned' }).check();
  await page.getByRole('button', { name: 'Start the drill' }).click();
  await page.getByRole('button', { name: '1 Begin' }).waitFor();
  const keys = await KeyPlayer.attach(page);
  const begunEpochMs = Date.now();
  await keys.send('Digit1', true, begunEpochMs);
  await keys.send('Digit1', false);
  await keys.play(pairEdges(), { fromEpochMs: begunEpochMs + T });
  await keys.tap('Digit9');
  await page.getByRole('button', { name: 'Close and debrief' }).click();
  await page.getByText('Ask them first').waitFor();
  const { looks, timeOrigin } = await page.evaluate(() => ({
    looks: window.looks,
    timeOrigin: performance.timeOrigin,
  }));
  const { journal } = await station.readOnlyJournal();
  const openedMs = begunEpochMs - timeOrigin - begunAtMs(journal);

  const orders = ordersOf(journal);
  expect(orders.map(({ cycle, count }) => [cycle, count])).toEqual([
    [0, 'heard'],
    [8, 'silent'],
    [17, 'heard'],
    [CYCLES - 1, 'silent'],
  ]);
  const [start, fallen, back] = orders.map(({ order }) => order);
  if (start === undefined || fallen === undefined || back === undefined) throw new Error('no such order');

  // What the player says it gave is what the chart wanted.
  const lines = journal.lines.flatMap(({ line }) => (line.kind === 'count' ? [line] : []));
  expect(lines.every((line) => line.what === 'stopped' || line.by === 'sound')).toBe(true);
  expect(offFrom(firstGivenAfter(lines, 0), start.fromMs)).toBeLessThan(1);
  expect(offFrom(firstStopped(lines), (fallen.endMs ?? 0) - T / 8)).toBeLessThan(1);
  // A closer reading may have named a "one" that was then not given: what counts is said after the stop.
  const afterStop = lines.slice(lines.findIndex(({ what }) => what === 'stopped') + 1);
  expect(offFrom(firstGivenAfter(afterStop, fallen.endMs ?? 0), back.fromMs)).toBeLessThan(1);

  // What came out of the loudspeaker is what the journal says.
  const loud = (fromMs: number, toMs: number) =>
    looks.filter(({ atMs, isLoud }) => isLoud && atMs - openedMs > fromMs && atMs - openedMs <= toMs).length;
  const silentFromMs = (fallen.endMs ?? 0) - T / 8 + TAIL_MS;
  expect(loud(silentFromMs, back.fromMs - LOOK_MS)).toBe(0);
  for (let atMs = start.fromMs; atMs < silentFromMs - TAIL_MS; atMs += T / 4)
    expect([atMs, loud(atMs - LOOK_MS, atMs + T / 4 - LOOK_MS) > 0]).toEqual([atMs, true]);
  expect(loud(back.fromMs - LOOK_MS, back.fromMs + T)).toBeGreaterThan(3);

  // The report has both: the pair at the heard beat, and the pair with and without it.
  const { count } = scoreJournal(journal).report.drill;
  expect(count.withCount).toMatchObject({ cycles: GOOD + 1, coordinated: GOOD });
  expect(count.withoutCount).toMatchObject({ cycles: CYCLES - 2 - GOOD, coordinated: 0 });
  expect(typeof count.asynchronyMs.compressor.mean).toBe('number');
});

function pairEdges(): KeyEdge[] {
  const press = (code: string, atMs: number): KeyEdge[] => [
    { atMs, code, down: true },
    { atMs: atMs + 150, code, down: false },
  ];
  return Array.from({ length: CYCLES }, (_, cycle) => {
    const second = cycle < GOOD ? 500 : 700;
    const presses = [0, second, 1000].flatMap((atMs) => press('KeyX', cycle * T + atMs));
    return [...presses, ...press('Period', cycle * T + 1500)];
  }).flat();
}

function begunAtMs({ lines }: Journal): number {
  const begin = lines.find(({ line }) => line.kind === 'call' && line.call === 'begin')?.line;
  return begin?.kind === 'call' ? begin.at : Number.NaN;
}

type Change = { cycle: number; count: string; order: CountOrder };

/** Every change of the count in a replay, line by line, with how many cycles were complete. */
function ordersOf({ open, lines }: Journal): Change[] {
  const driver = new DrillDriver(open);
  const changes: Change[] = [];
  let before = 'silent';
  for (const line of lines) {
    driver.take([line]);
    const { value, context } = driver.snapshot;
    if (value.count === before || context.order === null) continue;
    before = value.count;
    changes.push({ cycle: driver.cycleCount, count: value.count, order: context.order });
  }
  return changes;
}

function firstGivenAfter(lines: readonly CountLine[], afterMs: number): number {
  const given = lines.find((line) => line.what === 'given' && line.fromMs > afterMs);
  return given?.what === 'given' ? given.fromMs : Number.NaN;
}

function firstStopped(lines: readonly CountLine[]): number {
  const stopped = lines.find((line) => line.what === 'stopped');
  return stopped?.what === 'stopped' ? (stopped.lastMs ?? Number.NaN) : Number.NaN;
}

function offFrom(ms: number, wantedMs: number): number {
  return Math.abs(ms - wantedMs);
}

/** Runs in the page before it loads: whatever is connected to a context's destination is listened to as well. */
function listenAtOutput(lookMs: number): void {
  window.looks = [];
  const prototype = AudioNode.prototype as { connect: (...target: unknown[]) => unknown };
  const { connect } = prototype;
  const heard = new WeakSet<BaseAudioContext>();
  const patched = function (this: AudioNode, ...target: unknown[]): unknown {
    const { context } = this;
    if (target[0] === context.destination && !heard.has(context)) {
      heard.add(context);
      const tap = context.createAnalyser();
      tap.fftSize = 32_768;
      Reflect.apply(connect, this, [tap]);
      const samples = new Float32Array(tap.fftSize);
      let before = 0;
      setInterval(() => {
        tap.getFloatTimeDomainData(samples);
        const fresh = Math.min(tap.fftSize, Math.ceil((context.currentTime - before) * context.sampleRate));
        before = context.currentTime;
        const isLoud = fresh > 0 && samples.subarray(-fresh).some((sample) => Math.abs(sample) > 0.01);
        window.looks.push({ atMs: performance.now(), isLoud });
      }, lookMs);
    }
    return Reflect.apply(connect, this, target);
  };
  prototype.connect = patched;
}
