import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { getShortestPaths } from 'xstate/graph';
import type { Leg, Plan } from '../../../machines/plans/plan.ts';
import { type PlanCall, type PlanDrill, withCall } from '../../../machines/plans/plan-calls.ts';
import { legEndMs, type PlanContext, type PlanEvent } from '../../../machines/plans/plan-context.ts';
import { planRunner } from '../../../machines/plans/plan-runner.ts';
import { check, practise, rest, ventilation } from '../../../machines/plans/ready-made.ts';
import { PlanBench } from '../../support/plan-bench.ts';

const DRILL: PlanDrill = {
  stage: 'not begun',
  compressor: 'A',
  technique: 'two-thumb',
  stance: 'foot-end',
  airway: 'mask',
  guidance: 'unled',
  cycleMs: 2000,
};
const UNLED = { guidance: 'unled' } as const;
const ITSELF = { by: 'itself', warningSeconds: 5 } as const;
const PLAN: Plan = {
  kind: 'antiphon-plan',
  version: 1,
  name: 'All there is',
  words: { learners: '', instructor: '' },
  begin: { by: 'itself', warningSeconds: 5 },
  legs: [
    practise({ ...UNLED, seconds: 10, next: ITSELF }),
    practise({
      ...UNLED,
      seconds: 10,
      compressor: 'swap',
      technique: 'two-finger',
      next: { by: 'instructor' },
    }),
    { ...rest(10), next: ITSELF },
    { ...check(50), next: { by: 'instructor' } },
    practise({ ...UNLED, seconds: 10, compressor: 'swap', next: ITSELF }),
  ],
};
const CALLS: PlanCall[] = ['begin', 'swap', 'rest', 'resume', 'check', 'checked', 'undo', 'finish'].map(
  (call) => ({ call }) as PlanCall,
);

/** What can happen next: a tick before, in and after the warning or long after, the due call seen or refused, a call by hand. */
function eventsFor({ context }: { context: PlanContext }): PlanEvent[] {
  const atMs = context.nowMs + 100;
  const [due] = context.due;
  const seen = (call: PlanCall): PlanEvent => ({
    type: 'drill changed',
    atMs,
    call,
    drill: withCall(context.seen, call),
  });
  const end = legEndMs(context);
  return [
    ...[end - 3000, end, end + 60_000].map(
      (tick): PlanEvent => ({ type: 'clock ticked', atMs: Math.max(atMs, tick) }),
    ),
    { type: 'leg.next', atMs },
    ...(due === undefined
      ? CALLS.map(seen)
      : [seen(due.request), { type: 'call refused', atMs, call: due.request } as const]),
  ];
}

const paths = getShortestPaths(planRunner, {
  input: { plan: PLAN, drill: DRILL },
  events: eventsFor,
  serializeState: ({ value, context }) =>
    JSON.stringify([
      value,
      context.leg,
      context.seen.stage,
      context.seen.compressor,
      context.due.map(({ request }) => request.call),
    ]),
  limit: 100_000,
});

describe('every way through a plan', () => {
  it('is walked: every state but the two that are passed at once, on every leg', () => {
    const seen = new Set(paths.map(({ state }) => `${state.context.leg} ${String(state.value)}`));
    const wanted = PLAN.legs.flatMap(({ next }, leg) => [
      `${leg} running`,
      `${leg} held`,
      next.by === 'itself' ? `${leg} warned` : `${leg} waiting`,
      `${leg} over`,
    ]);
    expect(['-1 notBegun', '-1 over', ...wanted].filter((one) => !seen.has(one))).toEqual([]);
    expect([...seen].filter((one) => /ended|left/.test(one))).toEqual([]);
    expect(paths.length).toBeGreaterThan(100);
  });

  it('never leaves a leg out and never asks for a call that is so already', () => {
    for (const { state, steps } of paths) {
      const hasRefused = steps.some(({ event }) => event.type === 'call refused');
      const legs = steps.map((step) => step.state.context.leg);
      for (const [index, leg] of legs.entries()) expect(leg - (legs[index - 1] ?? -1)).toBeLessThanOrEqual(1);
      let drill = state.context.seen;
      for (const { request } of state.context.due) {
        const after = withCall(drill, request);
        if (request.call !== 'heart-rate' && !hasRefused) expect(after).not.toEqual(drill);
        drill = after;
      }
    }
  });

  it('has calls in order of time, none before its leg', () => {
    for (const { state } of paths) {
      const times = state.context.due.map(({ atMs }) => atMs);
      expect(times).toEqual([...times].sort((one, other) => one - other));
      expect(times.every((atMs) => atMs <= state.context.nowMs)).toBe(true);
    }
  });

  it('asks for nothing more once it is over but what it still owes', () => {
    const over = paths.filter(({ state }) => state.value === 'over');
    expect(over.length).toBeGreaterThan(0);
    for (const { state } of over) {
      const calls = state.context.due.map(({ request }) => request.call);
      expect(calls.filter((call) => call === 'finish').length).toBeLessThanOrEqual(1);
    }
  });
});

const next = fc.oneof(
  fc.constant({ by: 'instructor' } as const),
  fc.integer({ min: 0, max: 5 }).map((warningSeconds) => ({ by: 'itself', warningSeconds }) as const),
);
const seconds = fc.integer({ min: 5, max: 40 });
const practiseLeg: fc.Arbitrary<Leg> = fc.record({
  kind: fc.constant('practise' as const),
  compressor: fc.constantFrom('stay' as const, 'swap' as const, 'A' as const, 'B' as const),
  technique: fc.constantFrom('two-thumb' as const, 'two-finger' as const),
  stance: fc.constantFrom('foot-end' as const, 'head-end' as const, 'side' as const),
  airway: fc.constantFrom('mask' as const, 'secured' as const),
  guidance: fc.constantFrom('led' as const, 'weaned' as const, 'unled' as const),
  cycleMs: fc.constantFrom(2000, 3000),
  seconds,
  next,
});
const otherLeg: fc.Arbitrary<Leg> = fc.oneof(
  fc.record({ kind: fc.constant('rest' as const), seconds, next }),
  fc.record({
    kind: fc.constant('check' as const),
    heartRateBpm: fc.option(fc.integer({ min: 0, max: 200 })),
    seconds,
    next,
  }),
  fc.record({
    kind: fc.constant('ventilation' as const),
    compressor: fc.constant('stay' as const),
    airway: fc.constant('mask' as const),
    seconds,
    next,
  }),
);
const anyPlan: fc.Arbitrary<Plan> = fc
  .tuple(
    fc.constantFrom(practise(UNLED), ventilation()),
    fc.array(fc.oneof(practiseLeg, otherLeg), { maxLength: 8 }),
    next,
  )
  .map(([first, legs, begin]) => ({ ...PLAN, begin, legs: [first, ...legs] }));
/** What the instructor does, and when: gaps in ms. */
const anyHand = fc.array(
  fc.tuple(
    fc.integer({ min: 100, max: 20_000 }),
    fc.constantFrom<PlanCall | 'next' | 'press'>('next', 'press', ...CALLS),
  ),
  { maxLength: 30 },
);

describe('whatever the plan, the clock and the instructor', () => {
  it('an undisturbed plan makes every leg last as long as it says, to the millisecond', () => {
    fc.assert(
      fc.property(anyPlan, fc.integer({ min: 50, max: 1900 }), (plan, stepMs) => {
        const bench = new PlanBench({ ...plan, begin: { by: 'instructor' } }).next(1000);
        const starts = new Map<number, number>([[0, 1000]]);
        for (let atMs = 1000; !bench.run.snapshot.matches('over'); atMs += stepMs) {
          bench.tick(atMs);
          const { context } = bench.run.snapshot;
          if (bench.run.snapshot.matches('waiting')) bench.next(legEndMs(context));
          starts.set(bench.run.snapshot.context.leg, bench.run.snapshot.context.startedMs);
        }
        let atMs = 1000;
        for (const [leg, { seconds: length }] of plan.legs.entries()) {
          expect([leg, starts.get(leg)]).toEqual([leg, atMs]);
          atMs += length * 1000;
        }
        expect(bench.calls.at(-1)).toBe(`${atMs} finish`);
        expect(bench.refused).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('the plan ends, its legs come in order, and what is due is what its leg asks for', () => {
    fc.assert(
      fc.property(anyPlan, anyHand, (plan, hand) => {
        const bench = new PlanBench(plan);
        let atMs = 0;
        let leg = -1;
        for (const [gapMs, what] of hand) {
          for (const untilMs = atMs + gapMs; atMs < untilMs; atMs += 250) bench.tick(atMs);
          if (what === 'next') bench.next(atMs);
          else if (what === 'press') bench.press('chest', atMs);
          else bench.byHand(atMs, what);
          const now = bench.run.snapshot.context.leg;
          expect(now).toBeGreaterThanOrEqual(leg - 1);
          leg = now;
          expect(bench.run.due).toEqual([]);
        }
        for (let turn = 0; turn < 400 && !bench.run.snapshot.matches('over'); turn += 1) {
          atMs += 5000;
          bench.tick(atMs).next(atMs);
        }
        expect(bench.run.snapshot.value).toBe('over');
      }),
      { numRuns: 100 },
    );
  });
});
