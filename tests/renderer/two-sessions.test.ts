import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { BodyLine, CountLine } from '../../machines/journal.ts';
import { OTHER_WINDOW_ID, WINDOW_ID } from '../support/drills.ts';
import { type PageFacts, StationOnFakeClock } from '../support/window-on-host.ts';

const NEAR: PageFacts = { apartMs: 5000, ppm: 0, thereMs: 1, backMs: 1 };
const FAR: PageFacts = { apartMs: -40_000, ppm: 30, thereMs: 9, backMs: 2 };

function edgeTimes(lines: readonly BodyLine[]): number[] {
  return lines.flatMap((line) => (line.kind === 'edge' ? [line.at] : []));
}

function wordsOf(lines: readonly BodyLine[]): string[] {
  return lines.flatMap((line) => {
    if (line.kind === 'edge') return [`${line.switch} ${line.down ? 'down' : 'up'}`];
    return line.kind === 'device' ? [line.what] : [];
  });
}

describe('clocks of two windows', () => {
  test('seconds apart, one drifting, its ways of unequal length: presses over both have their length to within the ways', async () => {
    const station = new StationOnFakeClock();
    await station.clock.runUntil(3000);
    const one = await station.open(WINDOW_ID, NEAR);
    await station.clock.runUntil(3100);
    const other = await station.join(OTHER_WINDOW_ID, FAR);
    // A quarter of an hour, with the clocks' drift of 27 ms in it.
    for (let minute = 0; minute < 15; minute += 1) {
      const fromMs = 10_000 + minute * 60_000;
      await station.clock.runUntil(fromMs);
      for (const { session } of [one, other]) session.tick();
      await station.clock.runUntil(fromMs + 500);
      one.edge('chest', true);
      await station.clock.runUntil(fromMs + 700);
      other.edge('chest', false);
    }
    await station.clock.runUntil(1_000_000);
    const times = edgeTimes(await station.lines(one.session.opened.drillId));
    expect(times).toHaveLength(30);
    for (let press = 0; press < 15; press += 1) {
      const length = (times[2 * press + 1] ?? 0) - (times[2 * press] ?? 0);
      // Half of the two round trips, 1 + 5.5 ms, and what 30 ppm make in the half minute between measurements.
      expect(Math.abs(length - 200)).toBeLessThan(6.5 + 2 * 60_000 * 30e-6);
    }
  });

  test('whatever the offsets, drifts and ways: every edge is there once, whole, none of them late', async () => {
    const facts = fc.record({
      apartMs: fc.integer({ min: -100_000, max: 100_000 }),
      ppm: fc.integer({ min: -40, max: 40 }),
      thereMs: fc.integer({ min: 0, max: 10 }),
      backMs: fc.integer({ min: 0, max: 10 }),
    });
    const presses = fc.array(
      fc.record({ downIn: fc.boolean(), upIn: fc.boolean(), gapMs: fc.integer({ min: 60, max: 400 }) }),
      { minLength: 1, maxLength: 8 },
    );
    await fc.assert(
      fc.asyncProperty(facts, facts, presses, async (first, second, all) => {
        const station = new StationOnFakeClock();
        const one = await station.open(WINDOW_ID, first);
        await station.clock.runUntil(200);
        const other = await station.join(OTHER_WINDOW_ID, second);
        let atMs = 1000;
        for (const { downIn, upIn, gapMs } of all) {
          await station.clock.runUntil(atMs);
          (downIn ? one : other).edge('chest', true);
          await station.clock.runUntil(atMs + gapMs / 2);
          (upIn ? one : other).edge('chest', false);
          atMs += gapMs;
        }
        await station.clock.runUntil(atMs + 1000);
        const lines = await station.lines(one.session.opened.drillId);
        expect(wordsOf(lines)).toEqual(all.flatMap(() => ['chest down', 'chest up']));
        // Both windows have folded the same.
        expect(other.session.driver.lines).toEqual(one.session.driver.lines);
        expect(one.session.driver.lines.map(({ line }) => line)).toEqual(lines);
      }),
      { numRuns: 40 },
    );
  }, 60_000);

  test('a window that comes after the one that opened the drill was killed has its clock all the same', async () => {
    const station = new StationOnFakeClock();
    await station.clock.runUntil(2000);
    const one = await station.open(WINDOW_ID, NEAR);
    await station.clock.runUntil(4000);
    one.edge('chest', true);
    await station.clock.runUntil(4100);
    one.kill();
    const other = await station.join(OTHER_WINDOW_ID, FAR);
    await station.clock.runUntil(5000);
    other.edge('chest', false);
    await station.clock.runUntil(6000);
    const [down, up] = edgeTimes(await station.lines(one.session.opened.drillId));
    expect(down).toBe(2000);
    expect(Math.abs((up ?? 0) - 3000)).toBeLessThan(6.6);
    expect(wordsOf(await station.lines(one.session.opened.drillId))).toEqual(['chest down', 'chest up']);
  });
});

test('closed in both at once, the drill is closed once, and each window knows', async () => {
  const station = new StationOnFakeClock();
  const one = await station.open(WINDOW_ID, NEAR);
  const other = await station.join(OTHER_WINDOW_ID, FAR);
  await station.clock.runUntil(1000);
  const closing = [one, other].map((window) => window.session.close(window.pageNow()));
  await station.clock.runUntil(3000);
  expect((await Promise.all(closing)).map((result) => result.ok)).toEqual([true, false]);
  expect([one, other].map(({ session }) => session.isClosedElsewhere)).toEqual([false, true]);
  const lines = await station.lines(one.session.opened.drillId);
  expect(lines.filter(({ kind }) => kind === 'close')).toHaveLength(1);
});

describe('the count of two windows', () => {
  const countLines = (lines: readonly BodyLine[]): CountLine[] =>
    lines.filter((line): line is CountLine => line.kind === 'count');

  test('one window gives it; killed, its last beat is written down and the other goes on at its next “one”', async () => {
    const station = new StationOnFakeClock();
    const exact = { apartMs: 0, ppm: 0, thereMs: 0, backMs: 0 };
    const one = await station.open(WINDOW_ID, exact, { guidance: 'led' });
    await station.clock.runUntil(100);
    const other = await station.join(OTHER_WINDOW_ID, { ...exact, apartMs: 7000 });
    await station.clock.runUntil(1000);
    one.session.call({ call: 'begin' }, one.pageNow());
    const both = [one, other];
    const run = async (fromMs: number, toMs: number, windows = both) => {
      for (let atMs = fromMs; atMs <= toMs; atMs += 250) {
        await station.clock.runUntil(atMs);
        for (const { session } of windows) session.tick();
      }
    };
    await run(1250, 9500);
    const { drillId } = one.session.opened;
    const before = countLines(await station.lines(drillId));
    // A lead-in of one cycle after the call.
    expect(before).toEqual([
      expect.objectContaining({ what: 'given', by: 'sight', fromMs: 3000, cycleMs: 2000 }),
    ]);
    one.kill();
    await run(9750, 13_000, [other]);
    const after = countLines(await station.lines(drillId)).slice(1);
    expect(after).toEqual([
      expect.objectContaining({ what: 'stopped', lastMs: 9500 }),
      expect.objectContaining({ what: 'given', by: 'sight', fromMs: 11_000, cycleMs: 2000 }),
    ]);
  });

  test('a window that comes and goes beside it changes nothing of the count', async () => {
    const station = new StationOnFakeClock();
    const exact = { apartMs: 0, ppm: 0, thereMs: 0, backMs: 0 };
    const one = await station.open(WINDOW_ID, exact, { guidance: 'led' });
    one.session.call({ call: 'begin' }, one.pageNow());
    await station.clock.runUntil(4000);
    const other = await station.join(OTHER_WINDOW_ID, exact);
    await station.clock.runUntil(6000);
    for (const { session } of [one, other]) session.tick();
    other.kill();
    await station.clock.runUntil(8000);
    one.session.tick();
    expect(countLines(await station.lines(one.session.opened.drillId))).toHaveLength(1);
  });
});
