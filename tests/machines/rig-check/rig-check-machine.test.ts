import { describe, expect, it } from 'vitest';
import { getShortestPaths } from 'xstate/graph';
import {
  currentStep,
  nextRigCheck,
  outcomeOf,
  type RigCheckEvent,
  type RigCheckSnapshot,
  rigCheckMachine,
  type SwitchState,
  startRigCheck,
} from '../../../machines/rig-check/rig-check-machine.ts';
import { rigCheckSteps } from '../../../machines/rig-check/rig-check-steps.ts';

const ONE = { techniques: ['two-thumb'], stances: ['foot-end'] } as const;
const CONFIRM: RigCheckEvent = { type: 'hands confirmed' };
const END: RigCheckEvent = { type: 'check ended' };
const move = (name: 'chest' | 'airway', to: SwitchState): RigCheckEvent => ({
  type: 'switch moved',
  switch: name,
  to,
});
const EVENTS = [
  CONFIRM,
  END,
  move('chest', 'down'),
  move('chest', 'up'),
  move('chest', 'unknown'),
  move('airway', 'down'),
  move('airway', 'up'),
  move('airway', 'unknown'),
];
/** Both were pressed and let go once. */
const SEEN = [move('chest', 'up'), move('airway', 'up')];

function run(
  events: readonly RigCheckEvent[],
  parts: Parameters<typeof startRigCheck>[0] = ONE,
): RigCheckSnapshot {
  return events.reduce(nextRigCheck, startRigCheck(parts));
}

/** The check as it goes when everything is well. */
const WELL = [
  ...SEEN,
  CONFIRM,
  move('chest', 'down'),
  CONFIRM,
  move('chest', 'up'),
  CONFIRM,
  CONFIRM,
  move('airway', 'down'),
  CONFIRM,
  move('airway', 'up'),
  CONFIRM,
];

describe('the steps', () => {
  it('are the chest’s three with each technique and the bag’s three, stance by stance', () => {
    const steps = rigCheckSteps({ techniques: ['two-thumb', 'two-finger'], stances: ['foot-end', 'side'] });
    expect(steps.length).toBe(2 * (2 * 3 + 3));
    expect(
      steps
        .slice(0, 9)
        .map((step) => `${step.technique} ${step.stance} ${step.hands} ${step.isDown ? 'down' : 'up'}`),
    ).toEqual([
      'two-thumb foot-end thumbs resting up',
      'two-thumb foot-end one third down down',
      'two-thumb foot-end let up up',
      'two-finger foot-end thumbs resting up',
      'two-finger foot-end one third down down',
      'two-finger foot-end let up up',
      'null foot-end bag held up',
      'null foot-end chest just rises down',
      'null foot-end bag released up',
    ]);
    expect(steps[9]?.stance).toBe('side');
  });
});

/** Every state that can be reached and every event in it: any path is a chain of these. */
describe('on every path through the check', () => {
  const moves = everyMove(startRigCheck(ONE));

  it('every state is reached', () => {
    expect(moves.length).toBeGreaterThan(200);
    expect(new Set(moves.map(({ next }) => next.value))).toEqual(
      new Set(['asking', 'refused', 'passed', 'failed', 'skipped']),
    );
  });

  it('a step is passed only when the instructor confirms it while its switch is as expected and the other is up', () => {
    const passed = moves.filter(({ before, next }) => next.context.at > before.context.at);
    expect(passed.length).toBeGreaterThan(6);
    for (const { before, event, next } of passed) {
      const step = currentStep(before);
      const { chest, airway } = before.context.switches;
      expect([event.type, next.context.at - before.context.at]).toEqual(['hands confirmed', 1]);
      expect(step?.switch === 'chest' ? [chest, airway] : [airway, chest]).toEqual([
        step?.isDown === true ? 'down' : 'up',
        'up',
      ]);
    }
  });

  it('passed comes only with the last step', () => {
    const passed = moves.filter(
      ({ before, next }) => outcomeOf(next) === 'passed' && outcomeOf(before) === null,
    );
    expect(new Set(passed.map(({ before }) => before.context.at))).toEqual(new Set([5]));
  });

  it('it fails only from a step that was not passed, and is skipped only from one that was asked for', () => {
    const sources = (outcome: string) =>
      new Set(
        moves
          .filter(({ before, next }) => next.value === outcome && before.value !== outcome)
          .map(({ before, event }) => `${before.value} by ${event.type}`),
      );
    expect(sources('failed')).toEqual(new Set(['refused by check ended']));
    expect(sources('skipped')).toEqual(new Set(['asking by check ended']));
  });

  it('an outcome stays', () => {
    const after = moves.filter(({ before }) => outcomeOf(before) !== null);
    expect(after.length).toBeGreaterThan(0);
    expect(after.filter(({ before, next }) => before.value !== next.value)).toEqual([]);
  });
});

describe('the check', () => {
  it('is passed when everything is well', () => {
    expect(outcomeOf(run(WELL))).toBe('passed');
    expect(outcomeOf(run(WELL.slice(0, -1)))).toBe(null);
  });

  it.each([
    ['thumbs that rest close it', [move('chest', 'down'), CONFIRM], 'still down'],
    ['one third does not close it', [CONFIRM, CONFIRM], 'still up'],
    ['thumbs let up keep it closed', [CONFIRM, move('chest', 'down'), CONFIRM, CONFIRM], 'still down'],
    ['the two are swapped', [CONFIRM, move('airway', 'down'), CONFIRM], 'still up'],
    ['the other one hangs', [move('airway', 'down'), CONFIRM], 'other down'],
  ] as const)('is not passed when %s, and says why', (_what, events, trouble) => {
    const { value, context } = run([...SEEN, ...events]);
    expect([value, context.trouble]).toEqual(['refused', trouble]);
    expect(outcomeOf(run([...SEEN, ...events, END]))).toBe('failed');
  });

  it.each([
    ['its switch was not seen yet', [move('airway', 'up'), CONFIRM], 0, 'unknown'],
    ['the other was not seen yet', [move('chest', 'up'), CONFIRM], 0, 'other unknown'],
    [
      'the release of its switch was lost',
      [...SEEN, CONFIRM, move('chest', 'down'), CONFIRM, move('chest', 'unknown'), CONFIRM],
      2,
      'unknown',
    ],
    ['the other was unplugged', [...SEEN, move('airway', 'unknown'), CONFIRM], 0, 'other unknown'],
  ] as const)('passes no step when %s', (_what, events, at, trouble) => {
    const { value, context } = run(events);
    expect([value, context.at, context.trouble]).toEqual(['refused', at, trouble]);
  });

  it('goes on once a switch that was not known has been seen', () => {
    const seen = run([CONFIRM, ...SEEN]);
    expect([seen.context.trouble, run([CONFIRM, ...SEEN, CONFIRM]).context.at]).toEqual([null, 1]);
  });

  it('goes on when a step that was not passed is tried again and is well', () => {
    const tried = run([...SEEN, CONFIRM, CONFIRM, move('chest', 'down'), CONFIRM]);
    expect([tried.value, tried.context.at, tried.context.trouble]).toEqual(['asking', 2, null]);
  });

  it('can be passed with any parts by the shortest path', () => {
    const shortest = getShortestPaths(rigCheckMachine, {
      input: { techniques: ['two-thumb', 'two-finger'], stances: ['foot-end'] },
      events: EVENTS,
      toState: (state) => state.value === 'passed',
    });
    expect(shortest.map(({ weight }) => weight)).toEqual([2 + 9 + 6]);
  });
});

type Move = { before: RigCheckSnapshot; event: RigCheckEvent; next: RigCheckSnapshot };

/** Every event in every state that can be reached. */
function everyMove(start: RigCheckSnapshot): Move[] {
  const nameOf = ({ value, context: { at, switches, trouble } }: RigCheckSnapshot) =>
    JSON.stringify([value, at, switches, trouble]);
  const known = new Map([[nameOf(start), start]]);
  const moves: Move[] = [];
  // A map hands out what is added while it is walked.
  for (const before of known.values()) {
    for (const event of EVENTS) {
      const next = nextRigCheck(before, event);
      moves.push({ before, event, next });
      if (!known.has(nameOf(next))) known.set(nameOf(next), next);
    }
  }
  return moves;
}
