import { describe, expect, test } from 'vitest';
import { DEFAULT_FAULT_RATES, FAULTS, type Fault } from '../../../machines/rehearsal/faults.ts';
import { type Rehearsal, rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { cycleOf, pressesOf } from './presses.ts';

const CYCLE = 10;
const SEEDS = Array.from({ length: 25 }, (_, seed) => seed);
const plant = (fault: Fault, seed: number) =>
  rehearse({ seed, minutes: 1, plan: 'steady', planted: [{ cycle: CYCLE, fault }] });

/** What a person with the journal's edges before them would say of a cycle, by the limits of design section 5. */
function seen(rehearsal: Rehearsal, cycle: number): string[] {
  const { chest, airway, next } = cycleOf(rehearsal, cycle);
  const [breath] = airway;
  const start = chest[0]?.on ?? 0;
  const after = cycleOf(rehearsal, cycle + 1).chest[0]?.on ?? Number.POSITIVE_INFINITY;
  const said: string[] = [];
  if (chest.length === 4) said.push('fourth-compression');
  if (breath === undefined) said.push(next - start > 1750 ? 'missed-breath-gap' : 'missed-breath-no-gap');
  else {
    if (chest.some(({ on, off }) => on <= breath.on && off - breath.on > 50)) said.push('early-breath');
    if (after > breath.on && after < Math.min(breath.off, breath.on + 300))
      said.push('compression-into-breath');
    if (after >= breath.on + 300 && breath.off - after > 100) said.push('late-letting-go');
  }
  if (next - start > 2750 && chest.length === 3) said.push('stall');
  return said;
}

describe.each(FAULTS)('%s', (fault) => {
  test('appears in the cycle where it was planted, and the truth says so', () => {
    for (const seed of SEEDS) {
      const rehearsal = plant(fault, seed);
      expect(rehearsal.truth.faults).toEqual([{ cycle: CYCLE, fault, atMs: expect.any(Number) }]);
      expect(seen(rehearsal, CYCLE)).toEqual([fault]);
    }
  });

  test('and nowhere else', () => {
    for (const seed of SEEDS) {
      const rehearsal = plant(fault, seed);
      const others = rehearsal.truth.cycles.slice(0, -1).filter(({ cycle }) => cycle !== CYCLE);
      expect(others.flatMap(({ cycle }) => seen(rehearsal, cycle))).toEqual([]);
    }
  });

  test('everything before it is as it was without it', () => {
    const plain = rehearse({ seed: 3, minutes: 1, plan: 'steady', planted: [] });
    const faulty = plant(fault, 3);
    expect(faulty.truth.cycles.slice(0, CYCLE + 1)).toEqual(plain.truth.cycles.slice(0, CYCLE + 1));
  });
});

test('the truth’s time is that of an edge in the journal', () => {
  const at = (fault: Fault) => {
    const rehearsal = plant(fault, 6);
    return { atMs: rehearsal.truth.faults[0]?.atMs, ...cycleOf(rehearsal, CYCLE) };
  };
  const fourth = at('fourth-compression');
  expect(fourth.atMs).toBe(fourth.chest[3]?.on);
  const early = at('early-breath');
  expect(early.atMs).toBe(early.airway[0]?.on);
  const late = at('late-letting-go');
  expect(late.atMs).toBe(late.airway[0]?.off);
  const into = at('compression-into-breath');
  expect(into.atMs).toBe(into.next);
});

test('by chance, each fault comes as often as its rate says', () => {
  // Ten hours, about 16,000 cycles. Four standard errors of a rate p: 4 sqrt(p / n).
  const { truth } = rehearse({ seed: 12, minutes: 600, plan: 'steady' });
  const cycles = truth.cycles.length;
  expect(cycles).toBeGreaterThan(15_000);
  for (const fault of FAULTS) {
    const share = truth.faults.filter((one) => one.fault === fault).length / cycles;
    const rate = DEFAULT_FAULT_RATES[fault];
    expect(Math.abs(share - rate), fault).toBeLessThan(4 * Math.sqrt(rate / cycles));
  }
});

test('a rate of 1 makes the fault in every cycle that can have it; a rate of 0 in none', () => {
  const none = { ...DEFAULT_FAULT_RATES };
  for (const fault of FAULTS) none[fault] = 0;
  const always = rehearse({
    seed: 1,
    minutes: 1,
    plan: 'steady',
    faultRates: { ...none, 'fourth-compression': 1 },
  });
  expect(always.truth.faults).toHaveLength(always.truth.cycles.length);
  expect(rehearse({ seed: 1, minutes: 30, plan: 'steady', faultRates: none }).truth.faults).toEqual([]);
});

test('a fault that the swap overtakes is not claimed', () => {
  // The swap is called at 31.5 s; the fault is planted in the cycle in which that falls, and needs the next one to show.
  for (const seed of SEEDS) {
    const plain = rehearse({ seed, minutes: 1, planted: [] });
    const cycle = (plain.truth.handovers[0]?.cycle ?? 0) - 1;
    const rehearsal = rehearse({ seed, minutes: 1, planted: [{ cycle, fault: 'late-letting-go' }] });
    const swapped = rehearsal.truth.handovers[0]?.cycle === cycle + 1;
    expect(rehearsal.truth.faults.length).toBe(swapped ? 0 : 1);
  }
});

test('in the person binding faults are planted just the same', () => {
  const { lines, truth } = rehearse({
    seed: 2,
    minutes: 1,
    plan: 'steady',
    binding: 'person',
    planted: [{ cycle: CYCLE, fault: 'fourth-compression' }],
  });
  const [from = 0, to = 0] = truth.cycles.slice(CYCLE, CYCLE + 2).map(({ startMs }) => startMs);
  expect(pressesOf(lines, 'A').filter(({ on }) => on >= from && on < to)).toHaveLength(4);
  expect(pressesOf(lines, 'B').filter(({ on }) => on >= from && on < to)).toHaveLength(1);
});
