import { expect, test } from 'vitest';
import type { HandoverKind, HandoverModel } from '../../../machines/rehearsal/handovers.ts';
import { type RehearsalOptions, rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { quantile } from '../../../machines/statistics/summary.ts';
import { pressesOf } from './presses.ts';

const SEEDS = Array.from({ length: 60 }, (_, seed) => seed);
const swap = (seed: number, handovers: Partial<HandoverModel>, more: Partial<RehearsalOptions> = {}) =>
  rehearse({ seed, minutes: 1, planted: [], handovers, ...more });
const only = (kind: HandoverKind): Partial<HandoverModel> => ({ kinds: [kind] });

/** Of the one handover in a place-bound drill: its truth, and the chest presses on either side of it in the journal. */
function around(seed: number, handovers: Partial<HandoverModel>, more: Partial<RehearsalOptions> = {}) {
  const { lines, truth } = swap(seed, handovers, more);
  const [handover] = truth.handovers;
  if (handover === undefined || truth.handovers.length > 1) throw new Error('there is not one handover');
  const chest = pressesOf(lines, 'chest');
  const old = chest.filter(({ on }) => on < handover.firstNewMs).at(-1);
  const fresh = chest.find(({ on }) => on >= handover.firstNewMs);
  if (old === undefined || fresh === undefined) throw new Error('nobody compressed before or after');
  return { ...handover, old, fresh, lines };
}

test('the pair finishes its cycle, pauses, and the new pair begins: the truth names both compressions', () => {
  for (const seed of SEEDS) {
    const { old, fresh, lastOldMs, firstNewMs, calledMs, lines } = around(seed, only('ordinary'));
    const breaths = pressesOf(lines, 'airway').filter(({ on }) => on > old.on && on < fresh.on);
    expect([lastOldMs, firstNewMs]).toEqual([old.on, fresh.on]);
    expect(breaths).toHaveLength(1);
    expect(fresh.on - old.on).toBeGreaterThan(1300);
    expect(firstNewMs).toBeGreaterThan(calledMs);
  }
});

test('an ordinary swap takes two to four seconds in most drills, a slow one about nine', () => {
  const pauses = (kind: HandoverKind) =>
    Array.from({ length: 400 }, (_, seed) => around(seed, only(kind))).map(
      ({ old, fresh }) => fresh.on - old.off,
    );
  // Lognormal, median 3000, sigma 0.3: quartiles 2450 and 3673; median of the slow ones 9000. Four standard errors of a median: 7.5 %.
  expect(Math.abs((quantile(pauses('ordinary'), 0.5) ?? 0) / 3000 - 1)).toBeLessThan(0.075);
  expect(Math.abs((quantile(pauses('ordinary'), 0.25) ?? 0) / 2450 - 1)).toBeLessThan(0.1);
  expect(Math.abs((quantile(pauses('ordinary'), 0.75) ?? 0) / 3673 - 1)).toBeLessThan(0.1);
  expect(Math.abs((quantile(pauses('slow'), 0.5) ?? 0) / 9000 - 1)).toBeLessThan(0.075);
});

test('a seamless swap leaves no gap that a rule could see', () => {
  for (const seed of SEEDS) {
    const { old, fresh, kind } = around(seed, only('seamless'));
    expect(kind).toBe('seamless');
    expect(fresh.on - old.on).toBeLessThan(1300);
  }
});

test('`taken` is called when the new hands are on: shortly before their first compression, or just after it when there was no gap', () => {
  for (const seed of SEEDS) {
    const ordinary = around(seed, { ...only('ordinary'), takenRate: 1 });
    const lead = ordinary.firstNewMs - (ordinary.takenMs ?? Number.NaN);
    expect(lead).toBeGreaterThan(0);
    expect(lead).toBeLessThan(1300);
    const seamless = around(seed, { ...only('seamless'), takenRate: 1 });
    const delay = (seamless.takenMs ?? Number.NaN) - seamless.firstNewMs;
    expect(delay).toBeGreaterThan(0);
    expect(delay).toBeLessThan(300);
    expect(seamless.lines.filter((line) => line.kind === 'call' && line.call === 'taken')).toHaveLength(1);
  }
});

test('in the person binding the switches change their meaning', () => {
  for (const seed of SEEDS) {
    const { lines, truth } = swap(seed, { ...only('ordinary'), strayRate: 0 }, { binding: 'person' });
    const from = truth.handovers[0]?.firstNewMs ?? Number.NaN;
    const count = (name: 'A' | 'B', isAfter: boolean) =>
      pressesOf(lines, name).filter(({ on }) => on >= from === isAfter).length;
    expect(count('A', false) / count('B', false)).toBeCloseTo(3, 0);
    expect(count('B', true) / count('A', true)).toBeCloseTo(3, 0);
  }
});

test('a slow old compressor goes on for two presses, half a second apart, into the new compressor’s first triplet', () => {
  for (const seed of SEEDS) {
    const { lines, truth } = swap(seed, { ...only('ordinary'), strayRate: 1 }, { binding: 'person' });
    const [handover] = truth.handovers;
    const from = handover?.firstNewMs ?? Number.NaN;
    const strays = pressesOf(lines, 'A').filter(({ on }) => on >= from && on < from + 1000);
    expect(handover?.strays).toBe(2);
    expect(strays).toHaveLength(2);
    expect((strays[1]?.on ?? 0) - (strays[0]?.on ?? 0)).toBeLessThan(800);
  }
});

test('no strays where the switches stay and the people move', () => {
  expect(
    SEEDS.flatMap((seed) => swap(seed, { strayRate: 1 }).truth.handovers.map(({ strays }) => strays)),
  ).toEqual(SEEDS.map(() => 0));
});

test('a technique or a stance takes its own time, and the same person goes on', () => {
  const { truth } = rehearse({
    seed: 4,
    planted: [],
    handovers: { pauseSigma: 0, kinds: ['ordinary', 'ordinary'] },
    script: [
      { atMs: 0, call: 'begin' },
      { atMs: 20_000, call: 'technique', technique: 'two-finger' },
      { atMs: 25_000, call: 'technique', technique: 'two-finger' },
      { atMs: 40_000, call: 'stance', stance: 'side' },
      { atMs: 60_000, call: 'finish' },
    ],
  });
  const pauses = truth.handovers.map(({ firstNewMs, lastOldMs }) => firstNewMs - lastOldMs);
  expect(truth.handovers.map(({ reasons }) => reasons)).toEqual([['technique'], ['stance']]);
  expect(pauses[0]).toBeGreaterThan(2100);
  expect(pauses[0]).toBeLessThan(2400);
  expect(pauses[1]).toBeGreaterThan(4100);
  expect(pauses[1]).toBeLessThan(4400);
  expect(new Set(truth.cycles.map(({ compressor }) => compressor))).toEqual(new Set(['A']));
});

test('calls together make one handover, and a swap during a rest makes none', () => {
  const joined = rehearse({
    seed: 4,
    planted: [],
    script: [
      { atMs: 0, call: 'begin' },
      { atMs: 20_000, call: 'swap' },
      { atMs: 20_100, call: 'technique', technique: 'two-finger' },
      { atMs: 40_000, call: 'rest' },
      { atMs: 45_000, call: 'swap' },
      { atMs: 50_000, call: 'resume' },
      { atMs: 60_000, call: 'finish' },
    ],
  });
  expect(joined.truth.handovers.map(({ reasons, calledMs }) => ({ reasons, calledMs }))).toEqual([
    { reasons: ['swap', 'technique'], calledMs: 20_000 },
  ]);
  const compressors = joined.truth.cycles.map(({ compressor }) => compressor).join('');
  expect(compressors).toMatch(/^A+B+A+$/);
});

test('a call that falls into a stall is followed after it, never before', () => {
  for (const seed of SEEDS) {
    const { truth } = swap(seed, only('ordinary'), { faultRates: { stall: 1 } });
    for (const { calledMs, firstNewMs } of truth.handovers)
      expect(firstNewMs).toBeGreaterThan(calledMs + 250);
    const seamless = swap(seed, only('seamless'), { faultRates: { stall: 1 } });
    for (const { calledMs, firstNewMs } of seamless.truth.handovers)
      expect(firstNewMs).toBeGreaterThan(calledMs + 250);
  }
});
