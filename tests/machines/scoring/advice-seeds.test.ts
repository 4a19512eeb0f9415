import { describe, expect, it } from 'vitest';
import type { Fault } from '../../../machines/rehearsal/faults.ts';
import type { PersonModel } from '../../../machines/rehearsal/people.ts';
import type { RehearsalOptions } from '../../../machines/rehearsal/rehearse.ts';
import type { Advice } from '../../../machines/scoring/advice.ts';
import type { PersonRuleId } from '../../../machines/scoring/advice-rules.ts';
import {
  adviceFor,
  adviceWithLateBreaths,
  allMet,
  everyFifth,
  GOOD_PAIR,
  onlyRates,
} from '../../support/advised-pair.ts';

const SEEDS = Array.from({ length: 100 }, (_, seed) => seed);
const STEADY = { ...GOOD_PAIR, plan: 'steady', minutes: 2 } as const;
const SWAP = { ...GOOD_PAIR, plan: 'two-minutes-and-swap', minutes: 2 } as const;

/** In how many of the seeds the advice is as it should be. */
const rateOf = (make: (seed: number) => Advice, isRight: (advice: Advice) => boolean) =>
  SEEDS.filter((seed) => isRight(make(seed))).length;
const toldOf = ({ forPerson, pair }: Advice) => ({
  A: forPerson.A.toTry?.rule ?? null,
  B: forPerson.B.toTry?.rule ?? null,
  pair: pair.toTry?.rule ?? null,
});

/** Ada compresses, Ben ventilates. */
const FAULTS: { fault: Fault; rule: PersonRuleId; who: 'A' | 'B' }[] = [
  { fault: 'early-breath', rule: 'breath-too-soon', who: 'B' },
  { fault: 'late-letting-go', rule: 'let-go-late', who: 'B' },
  { fault: 'missed-breath-gap', rule: 'no-breath', who: 'B' },
  { fault: 'missed-breath-no-gap', rule: 'no-room', who: 'A' },
  { fault: 'fourth-compression', rule: 'four-compressions', who: 'A' },
  { fault: 'compression-into-breath', rule: 'compression-too-soon', who: 'A' },
  { fault: 'stall', rule: 'pause', who: 'A' },
];
const HABITS: { habit: string; model: Partial<PersonModel>; rule: PersonRuleId; who: 'A' | 'B' }[] = [
  { habit: 'a pace of a tenth too fast', model: { paceOffPct: -10 }, rule: 'pace-fast', who: 'A' },
  { habit: 'a pace of a tenth too slow', model: { paceOffPct: 10 }, rule: 'pace-slow', who: 'A' },
  {
    habit: 'cycles that grow 4 % a minute',
    model: { paceOffPct: -2, driftPctPerMin: 4 },
    rule: 'pace-change',
    who: 'A',
  },
  { habit: 'a breath 170 ms early', model: { breathAheadMs: -170 }, rule: 'breath-early', who: 'B' },
  { habit: 'a breath 170 ms late', model: { breathAheadMs: 170 }, rule: 'breath-late', who: 'B' },
  {
    habit: 'a bag held too long',
    model: { breathAheadMs: 60, breathPressMs: 600 },
    rule: 'let-go-late',
    who: 'B',
  },
];

describe('of two minutes with one fault, the fault is named, of the right person and nothing else, in 95 of 100', () => {
  for (const [drill, options] of [
    ['two minutes', STEADY],
    ['one minute', { ...STEADY, minutes: 1 }],
  ] as const)
    it.each(FAULTS)(`$fault in every fifth cycle of ${drill}`, ({ fault, rule, who }) => {
      const make = (seed: number) => adviceFor({ ...options, seed, planted: everyFifth(fault) });
      const wanted = { A: null, B: null, pair: null, [who]: rule };
      expect(rateOf(make, (advice) => isSame(toldOf(advice), wanted))).toBeGreaterThanOrEqual(95);
    });
  it.each(HABITS)('$habit', ({ model, rule, who }) => {
    const pair = { ...GOOD_PAIR.pair, [who]: { ...GOOD_PAIR.pair[who], ...model } };
    const wanted = { A: null, B: null, pair: null, [who]: rule };
    const make = (seed: number) => adviceFor({ ...STEADY, seed, pair });
    expect(rateOf(make, (advice) => isSame(toldOf(advice), wanted))).toBeGreaterThanOrEqual(95);
  });
  it.each([
    [600, 1],
    [750, 1],
    [900, 1],
    [600, 4],
    [750, 4],
  ])('a breath %i ms late in every cycle of %i, after the next “one” or nearly so', (lateMs, every) => {
    const make = (seed: number) => adviceWithLateBreaths({ ...STEADY, seed }, lateMs, every);
    const wanted = { A: null, B: 'breath-late-at-times', pair: null };
    expect(rateOf(make, (advice) => isSame(toldOf(advice), wanted))).toBeGreaterThanOrEqual(95);
  });
  it('after a swap, only of the one whose breath is early, whoever compresses', () => {
    const pair = { ...GOOD_PAIR.pair, A: { ...GOOD_PAIR.pair.A, breathAheadMs: -170 } };
    const make = (seed: number) => adviceFor({ ...SWAP, seed, pair });
    const wanted = { A: 'breath-early', B: null, pair: null };
    expect(rateOf(make, (advice) => isSame(toldOf(advice), wanted))).toBeGreaterThanOrEqual(95);
  });
  it('a swap of some eight seconds', () => {
    const handovers = { ...GOOD_PAIR.handovers, seamlessRate: 0, swapPauseMs: 8000 };
    const make = (seed: number) => adviceFor({ ...SWAP, seed, handovers });
    const wanted = { A: null, B: null, pair: 'handover-long' };
    expect(rateOf(make, (advice) => isSame(toldOf(advice), wanted))).toBeGreaterThanOrEqual(95);
  });
});

describe('a fault that comes by chance, at a fifth, is named in 90 of 100, since some drills have few of it', () => {
  it.each(FAULTS)('$fault, and nothing false is told in 95', ({ fault, rule, who }) => {
    const { planted: _planted, ...steady } = STEADY;
    const advice = SEEDS.map((seed) =>
      toldOf(adviceFor({ ...steady, seed, faultRates: onlyRates({ [fault]: 0.2 }) })),
    );
    const isNamed = (told: object) => isSame(told, { A: null, B: null, pair: null, [who]: rule });
    const isSilent = (told: object) => isSame(told, { A: null, B: null, pair: null });
    const named = advice.filter(isNamed).length;
    expect(named).toBeGreaterThanOrEqual(90);
    expect(named + advice.filter(isSilent).length).toBeGreaterThanOrEqual(95);
  });
});

describe('a good pair is told nothing false in 95 of 100', () => {
  const drills: [string, Omit<RehearsalOptions, 'seed'>][] = [
    ['two minutes', STEADY],
    ['two minutes and a swap', SWAP],
    ['one minute and a swap', { ...SWAP, minutes: 1 }],
    ['switches of 8 ms', { ...SWAP, stepMs: 8 }],
    ['a key each, on the table', { ...SWAP, binding: 'person', rig: 'rhythm' }],
    ['a slow tempo', { ...SWAP, cycleMs: 3000 }],
  ];
  it.each(drills)('%s', (_, options) => {
    const nothing = { A: null, B: null, pair: null };
    const make = (seed: number) => adviceFor({ ...options, seed });
    expect(rateOf(make, (advice) => isSame(toldOf(advice), nothing))).toBeGreaterThanOrEqual(95);
  });
  it('nor is it told of the lapses that every pair has: in 100 in 95 at their usual rates', () => {
    const { planted: _planted, ...usual } = STEADY;
    const make = (seed: number) => adviceFor({ ...usual, seed });
    const nothing = { A: null, B: null, pair: null };
    expect(rateOf(make, (advice) => isSame(toldOf(advice), nothing))).toBeGreaterThanOrEqual(95);
  });
  it('and it is praised for what it did, once the four ticks are met', () => {
    const make = (seed: number) => adviceFor({ ...STEADY, seed }, allMet(5000));
    const isPraised = ({ forPerson }: Advice) =>
      forPerson.A.praise?.rule === 'three-each' && forPerson.B.praise?.rule === 'breath-in-place';
    expect(rateOf(make, isPraised)).toBeGreaterThanOrEqual(95);
  });
});

function isSame(one: object, other: object): boolean {
  return Object.entries(other).every(([key, value]) => (one as Record<string, unknown>)[key] === value);
}
