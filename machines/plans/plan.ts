import * as v from 'valibot';
import type { Ms } from '../units.ts';
import { AIRWAYS, GUIDANCES, STANCES, TECHNIQUES } from '../vocabulary.ts';

/**
 * A plan: what the instructor means to run, as a list of legs. This file is the schema of plan files, version 1, and of the
 * open line's `plan`. A plan only makes calls; what really happened is in the journal.
 */

export const PLAN_VERSION = 1;
export const PLAN_KIND = 'antiphon-plan';
export const PLAN_SUFFIX = '.antiphon-plan.json';
/** Tool defaults: a leg's length, how many there are, and how long they all last. */
export const LEG_SECONDS = { least: 5, most: 3600 } as const;
export const MOST_LEGS = 60;
const MOST_PLAN_SECONDS = 14_400;
/** A warning longer than this is forgotten again (tool default). */
export const MOST_WARNING_SECONDS = 60;
/** Who compresses in a leg: a person, the other one than in the leg before, or whoever does. */
export const LEG_COMPRESSORS = ['stay', 'swap', 'A', 'B'] as const;

const text = (longest: number) =>
  v.pipe(v.string('is not text'), v.maxLength(longest, `is longer than ${longest} characters`));
const oneOf = <const T extends readonly string[]>(choices: T) =>
  v.picklist(choices, `is not one of ${choices.join(', ')}`);
const whole = (low: number, high: number, unit: string) =>
  v.pipe(
    v.number('is not a number'),
    v.check(
      (n: number) => Number.isInteger(n) && n >= low && n <= high,
      `is not ${low} to ${high} ${unit}, whole`,
    ),
  );
const seconds = whole(LEG_SECONDS.least, LEG_SECONDS.most, 's');

/** How a leg is called: by itself, after so many seconds of warning (0: none), or by the instructor, who is waited for. */
const calledSchema = v.variant(
  'by',
  [
    v.object({ by: v.literal('itself'), warningSeconds: whole(0, MOST_WARNING_SECONDS, 's') }),
    v.object({ by: v.literal('instructor') }),
  ],
  'is not by itself or instructor',
);
const everyLeg = {
  /** From the call that begins it. The time of a rest or check that the instructor calls in it is not counted. */
  seconds,
  /** For the instructor, while it is on. */
  note: v.optional(text(200)),
  /** How the next leg is called, or, in the last one, finish. */
  next: calledSchema,
};
const legSchema = v.pipe(
  v.variant(
    'kind',
    [
      v.object({
        kind: v.literal('practise'),
        compressor: oneOf(LEG_COMPRESSORS),
        technique: oneOf(TECHNIQUES),
        stance: oneOf(STANCES),
        airway: oneOf(AIRWAYS),
        guidance: oneOf(GUIDANCES),
        /** The tempo: a cycle's length, as in a tempo call. */
        cycleMs: whole(500, 20_000, 'ms'),
        ...everyLeg,
      }),
      /** Breaths alone; the count is off. As the first leg, begin says so. */
      v.object({
        kind: v.literal('ventilation'),
        compressor: oneOf(LEG_COMPRESSORS),
        airway: oneOf(AIRWAYS),
        ...everyLeg,
      }),
      v.object({ kind: v.literal('rest'), ...everyLeg }),
      v.object({
        kind: v.literal('check'),
        /** What the heart rate is said to be, in beats a minute, whatever the pair did; null: the instructor says it. */
        heartRateBpm: v.nullable(whole(0, 300, 'beats a minute')),
        ...everyLeg,
      }),
    ],
    'is not practise, ventilation, rest or check',
  ),
  v.forward(
    v.partialCheck(
      [['seconds'], ['next']],
      (leg) => leg.next.by === 'instructor' || leg.next.warningSeconds <= leg.seconds,
      'warns for longer than the leg lasts',
    ),
    ['next'],
  ),
);

export const planSchema = v.object(
  {
    kind: v.literal(PLAN_KIND, `is not ${PLAN_KIND}`),
    version: v.literal(PLAN_VERSION, `is not ${PLAN_VERSION}`),
    name: v.pipe(
      text(80),
      v.check((name) => name.trim() !== '', 'is empty'),
    ),
    /** What it is for, as each of them is told before it begins. */
    words: v.object(
      { learners: text(400), instructor: text(1000) },
      'does not speak to learners and instructor',
    ),
    /** How the first leg is called; by itself, the time counts from the opening of the drill. */
    begin: calledSchema,
    legs: v.pipe(
      v.array(legSchema, 'is not a list of legs'),
      v.minLength(1, 'is empty'),
      v.maxLength(MOST_LEGS, `is longer than ${MOST_LEGS} legs`),
      v.check(
        ([first]) => first?.kind === 'practise' || first?.kind === 'ventilation',
        'begins with neither practise nor ventilation',
      ),
      v.check(
        ([first]) => first === undefined || !('compressor' in first) || first.compressor !== 'swap',
        'begins with a swap, before which there is no leg',
      ),
      v.check(
        (legs) => legs.reduce((sum, leg) => sum + leg.seconds, 0) <= MOST_PLAN_SECONDS,
        `last longer than ${MOST_PLAN_SECONDS} s`,
      ),
    ),
  },
  'is not a plan',
);

export type Plan = v.InferOutput<typeof planSchema>;
export type Leg = Plan['legs'][number];
export type PractiseLeg = Extract<Leg, { kind: 'practise' }>;
/** How a leg is called. */
export type Called = Plan['begin'];
export type LegCompressor = (typeof LEG_COMPRESSORS)[number];

/** How long all legs last, in ms, when nobody is waited for and nothing is held. */
export function lengthOf({ legs }: Plan): Ms {
  return legs.reduce((sum, leg) => sum + leg.seconds * 1000, 0);
}

/** The first leg that says how people stand: what a drill is opened with. Null when the plan never practises. */
export function firstPractise({ legs }: Pick<Plan, 'legs'>): PractiseLeg | null {
  return legs.find((leg) => leg.kind === 'practise') ?? null;
}
