import { expect, test } from 'vitest';
import type { EdgeLine } from '../../../machines/journal.ts';
import { rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { roundToStep } from '../../../machines/rehearsal/switches.ts';
import { pressesOf } from './presses.ts';

const chestEdges = (noise: { bounceRate?: number; repeatRate?: number }) =>
  rehearse({ seed: 9, minutes: 1, plan: 'steady', planted: [], stepMs: 0, noise }).lines.filter(
    (line): line is EdgeLine => line.kind === 'edge' && line.switch === 'chest',
  );

test('a bouncing switch opens once more within 10 ms of going down, and is up for less than the 25 ms of the clean-up', () => {
  const plain = chestEdges({});
  const bouncing = chestEdges({ bounceRate: 1 });
  expect(bouncing).toHaveLength(plain.length * 2);
  for (let k = 0; k < bouncing.length; k += 4) {
    const [down, up, again, off] = bouncing.slice(k, k + 4);
    expect([down?.down, up?.down, again?.down, off?.down]).toEqual([true, false, true, false]);
    expect((again?.at ?? 99) - (down?.at ?? 0)).toBeLessThanOrEqual(10);
    expect([down?.at, off?.at]).toEqual([plain[k / 2]?.at, plain[k / 2 + 1]?.at]);
  }
});

test('a repeating keyboard sends the down edge again while it is held, from a quarter of a second on', () => {
  const plain = rehearse({ seed: 9, minutes: 1, plan: 'steady', planted: [], stepMs: 0 });
  const { lines } = rehearse({
    seed: 9,
    minutes: 1,
    plan: 'steady',
    planted: [],
    stepMs: 0,
    noise: { repeatRate: 1 },
  });
  const repeats = lines.filter(
    (line) => !plain.lines.some((other) => JSON.stringify(other) === JSON.stringify(line)),
  );
  // A press of w ms has ceil((w - 250) / 33) repeats: at 250, 283, 316 ... ms.
  const presses = [...pressesOf(plain.lines, 'airway'), ...pressesOf(plain.lines, 'chest')];
  const expected = presses.reduce(
    (sum, { on, off }) => sum + Math.max(0, Math.ceil((off - on - 250) / 33)),
    0,
  );
  expect(expected).toBeGreaterThan(60);
  expect(repeats).toHaveLength(expected);
  expect(repeats.every((line) => line.kind === 'edge' && line.down)).toBe(true);
});

test('times come in the switch’s step, which the journal states', () => {
  for (const stepMs of [0.1, 1, 8]) {
    const { open, lines } = rehearse({ seed: 9, minutes: 1, stepMs });
    expect(open.sources.chest?.stepMs).toBe(stepMs);
    expect(
      lines.every(
        (line) => line.kind !== 'edge' || Math.abs(line.at / stepMs - Math.round(line.at / stepMs)) < 1e-6,
      ),
    ).toBe(true);
  }
  expect([roundToStep(1234.56789, 0), roundToStep(1234.56789, 0.1), roundToStep(1235, 8)]).toEqual([
    1234.568, 1234.6, 1232,
  ]);
});

test('at the same time, a call stands before an edge', () => {
  const script = (atMs: number) => [
    { atMs: 0, call: 'begin' as const },
    { atMs, call: 'heart-rate' as const, bpm: 60 },
    { atMs: 20_000, call: 'finish' as const },
  ];
  const first = rehearse({ seed: 2, script: script(5000) });
  const edge = first.lines.find((line) => line.kind === 'edge' && line.at > 8000);
  const { lines } = rehearse({ seed: 2, script: script(edge?.at ?? 0) });
  const place = lines.findIndex((line) => line.kind === 'call' && line.call === 'heart-rate');
  expect(lines[place + 1]?.at).toBe(lines[place]?.at);
  expect(lines[place + 1]?.kind).toBe('edge');
});
