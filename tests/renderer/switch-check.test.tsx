// @vitest-environment happy-dom
import { act } from 'react';
import { expect, onTestFinished, test, vi } from 'vitest';
import type { StationSettings } from '../../electron/contract.ts';
import { seedRandom } from '../../machines/statistics/random.ts';
import { showSetUp } from '../support/set-up-screen.tsx';
import { tapsOf } from '../support/switch-stream.ts';

const LATE_MS = 12;

async function show(changes: Partial<StationSettings> = {}) {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  onTestFinished(() => void vi.useRealTimers());
  const { screen, started, remembered } = await showSetUp(changes);
  return { screen, started, remembered };
}

/** A key event at a time of the page. */
function key(type: 'keydown' | 'keyup', code: string, timeStamp: number, repeat = false): void {
  const event = new KeyboardEvent(type, { code, repeat, bubbles: true, cancelable: true });
  Object.defineProperty(event, 'timeStamp', { value: timeStamp });
  window.dispatchEvent(event);
}

/** Twenty presses of each, and twelve of both at once, the airway's told late. */
async function pressAll(): Promise<void> {
  const random = seedRandom(5);
  await act(async () => {
    for (const [code, fromMs] of [
      ['KeyF', 1000],
      ['KeyJ', 40_000],
    ] as const) {
      for (const { onMs, offMs } of tapsOf(random, 22, fromMs)) {
        key('keydown', code, Math.round(onMs));
        key('keyup', code, Math.round(offMs));
      }
    }
    for (const { onMs, offMs } of tapsOf(random, 12, 80_000)) {
      key('keydown', 'KeyF', Math.round(onMs));
      key('keydown', 'KeyJ', Math.round(onMs + LATE_MS));
      key('keyup', 'KeyF', Math.round(offMs));
      key('keyup', 'KeyJ', Math.round(offMs + LATE_MS));
    }
    key('keydown', 'KeyF', 120_000);
    for (let index = 0; index < 20; index += 1) key('keydown', 'KeyF', 120_500 + index * 33, true);
    key('keyup', 'KeyF', 121_500);
    vi.advanceTimersByTime(300);
  });
}

test('the figures follow the presses, and go into the drills that follow', async () => {
  const { screen, started, remembered } = await show();
  await screen.click(screen.button('Measure the switches'));
  expect(screen.text).toContain('no press of both switches at once');
  await pressAll();
  const cells = [...screen.element.querySelectorAll('tr')].map((row) =>
    [...row.children].map((cell) => cell.textContent),
  );
  expect(cells).toContainEqual(['Presses seen', '35', '34']);
  expect(cells).toContainEqual([
    'Repeats while held',
    'after 500 ms, every 33 ms',
    'no press was held for a second',
  ]);
  expect(cells.find(([label]) => label === 'Between the two, pressed at once')?.[1]).toMatch(
    /^the airway switch is 12\.0 ± \d\.\d ms later \(median of 12, middle half 0\.0 ms\)$/,
  );
  await screen.click(screen.button('Keep these figures'));
  expect(remembered.at(-1)?.switchCheck?.found.switchOffset).toMatchObject({
    medianMs: LATE_MS,
    applied: false,
  });
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.setup).toMatchObject({
    bounceMs: 25,
    switchOffset: { medianMs: LATE_MS, n: 12, applied: false },
    sources: { chest: { kind: 'keyboard', bounceMs: 0 }, airway: { kind: 'keyboard', bounceMs: 0 } },
  });
  await screen.click(screen.field('Take the offset between the two (12.0 ms) out of the score'));
  await screen.click(screen.button(/^Start the drill/));
  expect(started[1]?.setup.switchOffset?.applied).toBe(true);
});

test('a switch that is bound to another key has no figures any more', async () => {
  const found = {
    sources: { chest: { stepMs: 1, bounceMs: 4 }, airway: {} },
    bounceMs: 30,
  };
  const { screen, started } = await show({ switchCheck: { at: '2026-03-01T08:00:00.000Z', found } });
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.setup.bounceMs).toBe(30);
  await screen.click(screen.button('Change Chest switch'));
  await screen.press('KeyQ');
  expect(screen.text).toContain('are not measured');
  await screen.click(screen.button(/^Start the drill/));
  expect(started[1]?.setup.bounceMs).toBe(25);
});

test('left without keeping, the figures are as they were; started again, presses count from none', async () => {
  const { screen, remembered } = await show();
  await screen.click(screen.button('Measure the switches'));
  await pressAll();
  await screen.click(screen.button('Start again'));
  expect(screen.text).toContain('no press of both switches at once');
  await screen.click(screen.button('Back to Set-up'));
  expect([remembered, screen.text.includes('are not measured')]).toEqual([[], true]);
});

test('nothing found is not kept, and what was found before stays beside what is found now', async () => {
  const found = {
    sources: { chest: { stepMs: 8 }, airway: { bounceMs: 3 } },
    switchOffset: { medianMs: -4, spreadMs: 1, errorMs: 1, n: 10, applied: true },
    bounceMs: 30,
  };
  const { screen, remembered } = await show({ switchCheck: { at: '2026-03-01T08:00:00.000Z', found } });
  await screen.click(screen.button('Measure the switches'));
  await screen.click(screen.button('Keep these figures'));
  expect([remembered, screen.text.includes('Nothing is found yet.')]).toEqual([[], true]);
  await pressAll();
  await screen.click(screen.button('Keep these figures'));
  const kept = remembered.at(-1)?.switchCheck?.found;
  // The offset was found anew, and is still taken out, as the instructor had chosen.
  expect(kept?.switchOffset).toMatchObject({ medianMs: LATE_MS, applied: true });
  expect(kept?.bounceMs).toBe(25);
});

test('a switch that bounces too long for any limit is said to, and the longest limit is used', async () => {
  const { screen, started } = await show();
  await screen.click(screen.button('Measure the switches'));
  await act(async () => {
    for (const code of ['KeyF', 'KeyJ']) {
      const from = code === 'KeyF' ? 1000 : 60_000;
      for (let index = 0; index < 12; index += 1) {
        const on = from + index * 997;
        key('keydown', code, on);
        key('keyup', code, on + 5);
        key('keydown', code, on + 40);
        key('keyup', code, on + 300);
      }
    }
    vi.advanceTimersByTime(300);
  });
  await screen.click(screen.button('Keep these figures'));
  expect(screen.text).toContain('Presses may count twice. Use another switch.');
  await screen.click(screen.button(/^Start the drill/));
  expect(started[0]?.setup.bounceMs).toBe(50);
});
