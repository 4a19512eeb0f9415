import { describe, expect, it } from 'vitest';
import type { Called, Leg, Plan } from '../../../machines/plans/plan.ts';
import { legEndMs, legOf } from '../../../machines/plans/plan-context.ts';
import {
  check,
  practise,
  READY_MADE,
  READY_MADE_NAMES,
  rest,
  ventilation,
} from '../../../machines/plans/ready-made.ts';
import { unattendedCalls } from '../../../machines/plans/unattended.ts';
import { openLine } from '../../support/journal-builder.ts';
import { PlanBench, wordsOf } from '../../support/plan-bench.ts';

const BY_HAND: Called = { by: 'instructor' };
const ITSELF: Called = { by: 'itself', warningSeconds: 5 };
const UNLED = { guidance: 'unled' } as const;

function planOf(legs: Leg[], begin: Called = ITSELF): Plan {
  return {
    kind: 'antiphon-plan',
    version: 1,
    name: 'A plan',
    words: { learners: '', instructor: '' },
    begin,
    legs,
  };
}
const swapping = (next: Called = ITSELF) =>
  planOf([
    practise({ ...UNLED, seconds: 20, next }),
    practise({ ...UNLED, seconds: 20, compressor: 'swap', next }),
    practise({ ...UNLED, seconds: 20, compressor: 'swap', next }),
  ]);

describe('a plan left alone', () => {
  it('calls begin after its warning, every swap at its time, and finish', () => {
    const bench = new PlanBench(swapping()).ticks(0, 70_000);
    expect(bench.calls).toEqual(['5000 begin', '25000 swap', '45000 swap', '65000 finish']);
    expect(bench.run.snapshot.value).toBe('over');
  });

  it('calls the same at the same times, however the clock ticks within 2 s', () => {
    const calls = new PlanBench(swapping()).ticks(0, 70_000).calls;
    for (const stepMs of [50, 333, 1000, 1999])
      expect(new PlanBench(swapping()).ticks(0, 70_000, stepMs).calls).toEqual(calls);
  });

  it('leaves out no call when the clock stood still, and gives each leg its length', () => {
    const bench = new PlanBench(swapping()).ticks(0, 10_000).tick(300_000).ticks(300_250, 400_000);
    expect(bench.calls).toEqual(['5000 begin', '300000 swap', '320000 swap', '340000 finish']);
  });

  it('changes technique, stance, airway, count and tempo in that order, and only what differs', () => {
    const plan = planOf([
      practise({ ...UNLED, seconds: 20 }),
      practise({
        seconds: 20,
        compressor: 'B',
        technique: 'two-finger',
        stance: 'head-end',
        airway: 'secured',
        guidance: 'led',
        cycleMs: 3000,
      }),
      practise({
        seconds: 20,
        compressor: 'B',
        technique: 'two-thumb',
        stance: 'head-end',
        airway: 'secured',
        guidance: 'led',
        cycleMs: 3000,
      }),
    ]);
    expect(new PlanBench(plan).ticks(0, 70_000).calls).toEqual([
      '5000 begin',
      '25000 swap',
      '25000 technique two-finger',
      '25000 stance head-end',
      '25000 airway secured',
      '25000 guidance led',
      '25000 tempo 3000',
      '45000 technique two-thumb',
      '65000 finish',
    ]);
  });

  it('calls changes before a rest or check ends, so that they are no handover', () => {
    const plan = planOf([
      practise({ ...UNLED, seconds: 20 }),
      rest(10),
      practise({ ...UNLED, seconds: 20, compressor: 'swap' }),
      check(50),
      practise({ ...UNLED, seconds: 20, technique: 'two-finger' }),
    ]);
    expect(new PlanBench(plan).ticks(0, 90_000).calls).toEqual([
      '5000 begin',
      '25000 rest',
      '35000 swap',
      '35000 resume',
      '55000 check',
      '60000 heart-rate 50 sight',
      '65000 technique two-finger',
      '65000 checked',
      '85000 finish',
    ]);
  });

  it('says the heart rate of the plan, and none where the instructor is to say it', () => {
    const withRate = (bpm: number | null) => planOf([practise({ ...UNLED, seconds: 20 }), check(bpm)]);
    const rates = [null, 0, 50, 80].map((bpm) =>
      new PlanBench(withRate(bpm)).ticks(0, 60_000).calls.filter((call) => call.includes('heart-rate')),
    );
    expect(rates).toEqual([
      [],
      ['30000 heart-rate 0 sight'],
      ['30000 heart-rate 50 sight'],
      ['30000 heart-rate 80 sight'],
    ]);
  });

  it('begins with ventilation alone, the count off, where the first leg is that', () => {
    const plan = planOf([ventilation({ seconds: 30 }), check(50), practise({ seconds: 20 })]);
    expect(new PlanBench(plan, { guidance: 'led' }).ticks(0, 90_000).calls.slice(0, 3)).toEqual([
      '5000 guidance unled',
      '5000 begin ventilation',
      '35000 check',
    ]);
  });
});

describe('the instructor beside a plan', () => {
  it('is waited for at the end of a leg they call, and one key calls all of the next', () => {
    const bench = new PlanBench(swapping(BY_HAND)).ticks(0, 60_000);
    expect([bench.run.snapshot.value, bench.calls]).toEqual(['waiting', ['5000 begin']]);
    bench.next(61_000).next(70_000).next(71_000).ticks(71_000, 80_000);
    expect(bench.calls).toEqual(['5000 begin', '61000 swap', '70000 swap', '71000 finish']);
  });

  it('begins the next leg with their own swap, which is not made twice', () => {
    const bench = new PlanBench(swapping(BY_HAND)).ticks(0, 30_000);
    bench.byHand(30_100, { call: 'swap' });
    expect([bench.calls, bench.run.snapshot.context.leg]).toEqual([['5000 begin', '30100 swap'], 1]);
  });

  it('has swapped before the plan would, and the plan does not swap back', () => {
    const bench = new PlanBench(swapping()).ticks(0, 15_000);
    bench.byHand(15_000, { call: 'swap' });
    bench.ticks(15_250, 70_000);
    expect(bench.calls).toEqual(['5000 begin', '15000 swap', '45000 swap', '65000 finish']);
  });

  it('calls the swap while it is being warned of: the next leg has begun', () => {
    const bench = new PlanBench(swapping()).ticks(0, 21_000);
    expect(bench.run.snapshot.value).toBe('warned');
    bench.byHand(22_000, { call: 'swap' });
    bench.ticks(22_250, 43_000);
    expect(bench.calls).toEqual(['5000 begin', '22000 swap', '42000 swap']);
  });

  it('takes the swap back that had begun the next leg, and is in the leg before again', () => {
    const bench = new PlanBench(swapping(BY_HAND)).ticks(0, 10_000);
    bench.byHand(10_000, { call: 'swap' });
    bench.byHand(12_000, { call: 'undo' });
    expect(bench.run.snapshot.context).toMatchObject({ leg: 0, startedMs: 5000 });
    bench.ticks(12_000, 30_000).next(30_000);
    expect(bench.calls).toEqual(['5000 begin', '10000 swap', '12000 undo', '30000 swap']);
  });

  it('takes the plan’s swap back, which is then not called again in that leg', () => {
    const bench = new PlanBench(swapping()).ticks(0, 25_000);
    expect(bench.byHand(26_000, { call: 'undo' })).toBe(true);
    bench.ticks(26_250, 70_000);
    expect(bench.calls).toEqual(['5000 begin', '25000 swap', '26000 undo', '65000 finish']);
  });

  it('rests and checks in a leg, and the leg’s clock stands still', () => {
    const bench = new PlanBench(swapping()).ticks(0, 15_000);
    bench.byHand(15_000, { call: 'rest' });
    bench.ticks(15_250, 100_000);
    expect(bench.run.snapshot.value).toBe('held');
    bench.byHand(100_000, { call: 'resume' });
    bench.byHand(102_000, { call: 'check' });
    bench.ticks(102_000, 112_000).byHand(112_000, { call: 'checked' });
    bench.ticks(112_000, 170_000);
    expect(bench.calls.filter((call) => /swap|finish/.test(call))).toEqual([
      '120000 swap',
      '140000 swap',
      '160000 finish',
    ]);
  });

  it('ends a rest of the plan before its time, and the next leg is on', () => {
    const bench = new PlanBench(
      planOf([practise({ ...UNLED, seconds: 20 }), rest(60), practise({ ...UNLED, seconds: 20 })]),
    );
    bench.ticks(0, 40_000).byHand(40_000, { call: 'resume' });
    bench.ticks(40_000, 70_000);
    expect(bench.calls).toEqual(['5000 begin', '25000 rest', '40000 resume', '60000 finish']);
  });

  it('swaps in a rest that waits for them: the rest goes on until it is resumed', () => {
    const plan = planOf([
      practise({ ...UNLED, seconds: 20 }),
      { ...rest(10), next: BY_HAND },
      practise({ ...UNLED, seconds: 20, compressor: 'swap' }),
    ]);
    const bench = new PlanBench(plan).ticks(0, 40_000);
    bench.byHand(40_000, { call: 'swap' });
    bench.ticks(40_000, 50_000);
    expect([bench.run.snapshot.value, bench.run.snapshot.context.leg]).toEqual(['waiting', 1]);
    bench.byHand(50_000, { call: 'resume' });
    bench.ticks(50_000, 80_000);
    expect(bench.calls).toEqual(['5000 begin', '25000 rest', '40000 swap', '50000 resume', '70000 finish']);
  });

  it.each(['rest', 'check'] as const)('takes the plan’s %s back: the leg before waits for them', (kind) => {
    const stop: Leg = kind === 'rest' ? { ...rest(10), next: ITSELF } : check(null);
    const plan = planOf([
      practise({ ...UNLED, seconds: 20 }),
      stop,
      practise({ ...UNLED, seconds: 20, compressor: 'swap' }),
    ]);
    const bench = new PlanBench(plan).ticks(0, 26_000);
    bench.byHand(27_000, { call: 'undo' });
    bench.ticks(27_000, 60_000);
    expect([bench.run.snapshot.value, bench.run.snapshot.context.leg]).toEqual(['waiting', 0]);
    expect(bench.calls).toEqual(['5000 begin', `25000 ${kind}`, '27000 undo']);
    bench.next(60_000).ticks(60_000, 100_000);
    expect(bench.calls.slice(3)).toEqual([
      `60000 ${kind}`,
      '70000 swap',
      kind === 'rest' ? '70000 resume' : '70000 checked',
      '90000 finish',
    ]);
  });

  it('says a heart rate in a check, and the plan says no other', () => {
    const bench = new PlanBench(planOf([practise({ ...UNLED, seconds: 20 }), check(50)])).ticks(0, 26_000);
    bench.byHand(27_000, { call: 'heart-rate', bpm: 70 });
    bench.ticks(27_000, 60_000);
    expect(bench.calls).toEqual(['5000 begin', '25000 check', '27000 heart-rate 70', '35000 finish']);
  });

  it('begins before the plan would, and finishes before it would', () => {
    const bench = new PlanBench(swapping(BY_HAND));
    bench.byHand(1000, { call: 'begin' });
    bench.ticks(1000, 8000).byHand(8000, { call: 'finish' });
    bench.ticks(8000, 90_000);
    expect([bench.calls, bench.run.snapshot.value]).toEqual([['1000 begin', '8000 finish'], 'over']);
  });

  it('undoes the plan’s finish: the drill is theirs, the plan is over', () => {
    const bench = new PlanBench(swapping()).ticks(0, 65_000);
    bench.byHand(66_000, { call: 'undo' });
    bench.ticks(66_000, 90_000);
    expect([bench.calls.slice(-2), bench.run.snapshot.value]).toEqual([
      ['65000 finish', '66000 undo'],
      'over',
    ]);
  });
});

describe('a leg that has begun by itself in the window that makes the calls', () => {
  /** A window that has the drill's begin at 1000 and its clock at 10 000, and then hears that line. */
  const told = (at: number, leg: number, nowMs = 10_000) => {
    const bench = new PlanBench(swapping());
    bench.byHand(1000, { call: 'begin' });
    bench.run.tick(nowMs);
    bench.run.take({ kind: 'device', at, what: 'plan-leg', leg }, bench.driver.snapshot);
    const { context, value } = bench.run.snapshot;
    return [value, context.leg, context.startedMs, context.due.map(({ request }) => request.call)];
  };

  it('is the leg here, with the calls into it, whatever this window knew', () => {
    expect(told(12_000, 1)).toEqual(['running', 1, 12_000, ['swap']]);
    expect(told(12_000, 2)).toEqual(['running', 2, 12_000, []]);
    expect(told(40_000, 2)).toEqual(['running', 2, 40_000, []]);
  });

  it('leaves this window’s own time as it is within 2 s, and takes it over beyond', () => {
    expect(told(22_000, 1, 21_500)).toEqual(['running', 1, 21_000, ['swap']]);
    expect(told(24_000, 1, 21_500)).toEqual(['running', 1, 24_000, ['swap']]);
  });

  it('takes a leg back that began here too soon, but not by a line from before it', () => {
    expect(told(24_000, 0, 21_500)).toEqual(['running', 0, 24_000, []]);
    expect(told(20_900, 0, 21_500)).toEqual(['running', 1, 21_000, ['swap']]);
  });

  it('is no leg of the plan: nothing changes', () => {
    expect(told(12_000, 3)).toEqual(['running', 0, 1000, []]);
  });
});

it('a next leg that is asked for twice comes once', () => {
  const bench = new PlanBench(swapping(BY_HAND)).ticks(0, 10_000);
  const line = bench.run.nextLine(10_000);
  for (const _window of [1, 2]) bench.run.take(line, bench.driver.snapshot);
  expect(bench.run.snapshot.context.leg).toBe(1);
});

it('a run is the same when its journal is read back line by line', () => {
  const bench = new PlanBench(READY_MADE['whole-sequence']).ticks(0, 3000).next(3000);
  bench.press('airway', 4000).press('airway', 5500).ticks(6000, 40_000).next(40_000).ticks(40_000, 80_000);
  const again = new PlanBench(READY_MADE['whole-sequence']);
  for (const [index, line] of bench.lines.entries()) {
    again.driver.take([{ number: index + 2, line }]);
    again.run.take(line, again.driver.snapshot);
  }
  again.tick(80_000);
  expect(again.run.snapshot.context).toEqual(bench.run.snapshot.context);
  expect([again.run.snapshot.value, again.calls]).toEqual([bench.run.snapshot.value, []]);
});

describe('the plans that come with the station', () => {
  it.each(READY_MADE_NAMES)('%s runs unattended to its finish, leg by leg, with no call refused', (name) => {
    const plan = READY_MADE[name];
    const bench = new PlanBench(plan);
    const legs = new Set<unknown>();
    bench.next(1000);
    for (let atMs = 1250; !bench.run.snapshot.matches('over') && atMs < 3_600_000; atMs += 250) {
      bench.tick(atMs);
      legs.add(bench.run.snapshot.context.leg);
      if (bench.run.snapshot.matches('waiting')) bench.next(atMs);
    }
    expect([...legs]).toEqual(plan.legs.map((_, index) => index));
    expect(bench.refused).toEqual([]);
    expect(bench.calls.at(-1)).toMatch(/ finish$/);
    const made = unattendedCalls(plan, openLine(), 1000).map(
      ({ atMs, request }) => `${atMs} ${wordsOf(request)}`,
    );
    expect(made).toEqual(bench.calls);
    const { context } = bench.run.snapshot;
    expect(legEndMs(context) - context.startedMs).toBe((legOf(context)?.seconds ?? 0) * 1000);
  });
});
