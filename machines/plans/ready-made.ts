import { CYCLE_MS, SLOW_CYCLE_MS } from '../pattern.ts';
import { type Called, type Leg, PLAN_KIND, PLAN_VERSION, type Plan, type PractiseLeg } from './plan.ts';

/** The plans that come with the station. Lengths and warnings are tool defaults but where a reason is given. */

export const READY_MADE_NAMES = [
  'first-contact',
  'cold-minute',
  'two-minutes-then-swap',
  'both-techniques',
  'head-end',
  'whole-sequence',
  'sign-off-minute',
] as const;
export type ReadyMadeName = (typeof READY_MADE_NAMES)[number];

const WARNED: Called = { by: 'itself', warningSeconds: 10 };
const CALLED: Called = { by: 'instructor' };

export const READY_MADE: Record<ReadyMadeName, Plan> = {
  'first-contact': plan(
    'First contact',
    'Say the count together first, then slowly with hands, then at the usual tempo.',
    'Speak it, slow, led. Let them find the words before the hands; each step goes on when you call it.',
    [
      practise({
        seconds: 30,
        guidance: 'led',
        cycleMs: SLOW_CYCLE_MS,
        note: 'Speak it: no hands yet.',
        next: CALLED,
      }),
      practise({
        seconds: 60,
        guidance: 'led',
        cycleMs: SLOW_CYCLE_MS,
        note: 'Slow, with hands.',
        next: CALLED,
      }),
      practise({ seconds: 60, compressor: 'swap', guidance: 'led', cycleMs: SLOW_CYCLE_MS, next: CALLED }),
      practise({ seconds: 60, guidance: 'led', note: 'The usual tempo.', next: CALLED }),
      practise({ seconds: 60, compressor: 'swap', guidance: 'led', next: CALLED }),
    ],
  ),
  'cold-minute': plan(
    'Cold minute',
    'One minute, no count, before any teaching. Do what you would do.',
    'The first minute, unled, before teaching: say nothing. It is what later minutes are held against.',
    [practise({ seconds: 60, guidance: 'unled', next: WARNED })],
  ),
  'two-minutes-then-swap': plan(
    'Two minutes, then swap',
    'Two minutes, swap, two minutes.',
    'The count falls silent once the pair is steady. The swap is called by itself, after a warning.',
    [
      practise({ seconds: 120, guidance: 'weaned', next: WARNED }),
      practise({ seconds: 120, compressor: 'swap', guidance: 'weaned', next: WARNED }),
    ],
  ),
  'both-techniques': plan(
    'Both techniques, three times',
    'Two-thumb and two-finger by turns, three times each.',
    // Design section 5: a technique is compared only over three or more alternating bouts a side.
    'Six stretches by turns: three a side is the least that a comparison can rest on. Two-thumb is the method of choice; two-finger is practised as the exception it is.',
    [0, 1, 2, 3, 4, 5].map((turn) =>
      practise({
        seconds: 60,
        technique: turn % 2 === 0 ? 'two-thumb' : 'two-finger',
        guidance: 'unled',
        next: WARNED,
      }),
    ),
  ),
  'head-end': plan(
    'From the head end',
    'Someone needs the cord: the compressor moves to the head end, the ventilator to the side.',
    'Two-thumb, airway secured before the move. With a mask it is allowed, and warned about: two at the head are in each other’s way.',
    [
      practise({ seconds: 60, guidance: 'unled', next: WARNED, note: 'From the foot end, with a mask.' }),
      practise({
        seconds: 10,
        airway: 'secured',
        guidance: 'unled',
        next: CALLED,
        note: 'The airway is secured.',
      }),
      practise({
        seconds: 120,
        stance: 'head-end',
        airway: 'secured',
        guidance: 'unled',
        next: WARNED,
        note: 'The ventilator stands at the side.',
      }),
    ],
  ),
  'whole-sequence': plan(
    'The whole sequence',
    'The heart rate is under 60. Ventilate; compress only when you are told that it still is.',
    'Ventilation first, effective only when you have ticked that the chest rises. The heart rate is what the plan says, and never rises because of timing.',
    [
      // Both presets ventilate for 30 s first, and compress under 60 (pattern.ts).
      ventilation({ seconds: 30, next: CALLED, note: 'Tick chest rise: the 30 s count from there.' }),
      check(50),
      practise({ seconds: 60, guidance: 'unled', next: WARNED }),
      check(50),
      practise({ seconds: 60, guidance: 'unled', compressor: 'swap', next: WARNED }),
      check(80),
      ventilation({ seconds: 30, next: WARNED, note: 'The heart rate is 60 or more: back to ventilation.' }),
    ],
  ),
  'sign-off-minute': plan(
    'Sign-off minute',
    'One minute, no count, after 30 s to settle.',
    'Tick what no switch can know. The tool says met, not yet or not assessed against the course’s own standard; you sign.',
    [
      practise({
        seconds: 30,
        guidance: 'unled',
        next: { by: 'itself', warningSeconds: 0 },
        note: 'To settle.',
      }),
      { ...rest(10), note: 'A short rest, then the minute.' },
      practise({ seconds: 60, guidance: 'unled', next: WARNED, note: 'The minute.' }),
    ],
  ),
};

function plan(name: string, learners: string, instructor: string, legs: Leg[]): Plan {
  return {
    kind: PLAN_KIND,
    version: PLAN_VERSION,
    name,
    words: { learners, instructor },
    begin: CALLED,
    legs,
  };
}

/** A leg of compressions and breaths: two-thumb, from the foot end, with a mask, at the usual tempo, unless said. */
export function practise(changes: Partial<PractiseLeg> = {}): PractiseLeg {
  return {
    kind: 'practise',
    compressor: 'stay',
    technique: 'two-thumb',
    stance: 'foot-end',
    airway: 'mask',
    guidance: 'weaned',
    cycleMs: CYCLE_MS,
    seconds: 60,
    next: WARNED,
    ...changes,
  };
}

export function ventilation(changes: Partial<Extract<Leg, { kind: 'ventilation' }>> = {}): Leg {
  return { kind: 'ventilation', compressor: 'stay', airway: 'mask', seconds: 30, next: WARNED, ...changes };
}

export function rest(seconds = 30): Leg {
  return { kind: 'rest', seconds, next: WARNED };
}

/** Ten seconds: design section 5's goal for a check. */
export function check(heartRateBpm: number | null): Leg {
  return { kind: 'check', heartRateBpm, seconds: 10, next: { by: 'itself', warningSeconds: 0 } };
}

/** The plan to start a new one from. */
export function newPlan(name: string): Plan {
  return plan(name, '', '', [practise()]);
}
