import * as v from 'valibot';
import { isWholeUs, type Ms } from './units.ts';
import { PERSONS, STANCES, TECHNIQUES } from './vocabulary.ts';
import { isDate } from './wall-clock.ts';

/** What a journal's lines are made of: one schema a kind of value, with the words that follow a bad field's name. */

export const MAX_AT_MS = 86_400_000;

export const atMs = v.pipe(
  v.number('is not a number of milliseconds'),
  v.check((at: Ms) => at >= 0 && at <= MAX_AT_MS, 'is not between 0 and 86400000 ms'),
  v.check((at: Ms) => isWholeUs(at), 'has more than three decimals'),
);
export const words = (longest: number) =>
  v.pipe(v.string('is not text'), v.maxLength(longest, `is longer than ${longest} characters`));
export const someWords = (longest: number) =>
  v.pipe(
    words(longest),
    v.check((text) => text.trim() !== '', 'is empty'),
  );
/** A short name made for machines: a tick's item, what a device did, a guideline. */
export const slug = v.pipe(
  v.string('is not text'),
  v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'is not a short name of a-z, 0-9 and -'),
);
export const oneOf = <const T extends readonly string[]>(choices: T) =>
  v.picklist(choices, `is not one of ${choices.join(', ')}`);
export const between = (low: number, high: number, unit: string) =>
  v.pipe(
    v.number('is not a number'),
    v.check((n: number) => n >= low && n <= high && isWholeUs(n), `is not ${low} to ${high} ${unit}`),
  );
/** A cycle's length in ms; the limits are tool defaults, wide enough for any teaching tempo. */
export const cycleMs = between(500, 20_000, 'ms');

/** Wall-clock time, ISO 8601 in UTC. */
export const isoTime = v.pipe(
  v.string('is not text'),
  v.regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,6})?Z$/, 'is not an ISO 8601 time in UTC'),
  v.check(isDate, 'is no date of the calendar'),
);
export const someOf = <const T extends readonly string[]>(choices: T) =>
  v.pipe(
    v.array(oneOf(choices), 'is not a list'),
    v.minLength(1, 'is empty'),
    v.check((list) => new Set(list).size === list.length, 'names one twice'),
  );
/**
 * What came of the day's rig check: when it ended, and with which techniques and stances it was made. `not-done`: a manikin
 * rig was wanted and not checked that day, so there is no time. Only `passed` goes with a manikin rig.
 */
export const rigCheckSchema = v.variant(
  'outcome',
  [
    v.object({
      outcome: oneOf(['passed', 'failed', 'skipped']),
      at: isoTime,
      techniques: someOf(TECHNIQUES),
      stances: someOf(STANCES),
    }),
    v.object({ outcome: v.literal('not-done') }),
  ],
  'is not passed, failed, skipped or not-done',
);

export const rolesSchema = v.pipe(
  v.object({ compressor: oneOf(PERSONS), ventilator: oneOf(PERSONS) }, 'is not a pair of roles'),
  v.check((roles) => roles.compressor !== roles.ventilator, 'gives both roles to one person'),
);
export const sourceSchema = v.object(
  {
    kind: slug,
    /** The step its times come in: what the switch check found, else what the source says of itself. */
    stepMs: between(0, 1000, 'ms'),
    /** The longest bounce that the switch check saw, 0 when it saw none. Absent: not checked. */
    bounceMs: v.optional(between(0, 200, 'ms')),
  },
  'is not a time source',
);
export const MOST_OFFSET_MS = 100;
/**
 * How much later the second switch (airway, or B) tells a press than the first, as the switch check found it.
 * Greater offsets than 100 ms are a fault to look for (tool default). Absent: not known.
 */
export const switchOffsetSchema = v.object(
  {
    /** Median of second less first; positive: the second is later. */
    medianMs: between(-MOST_OFFSET_MS, MOST_OFFSET_MS, 'ms'),
    /** The middle half of the differences spans so much. */
    spreadMs: between(0, 1000, 'ms'),
    /** 95 % of the median's error. */
    errorMs: between(0, 1000, 'ms'),
    /** Presses of both at once. */
    n: between(1, 1_000_000, 'presses'),
    /** True: it is taken out of the score, the later switch's times are moved back by it. The lines stay as they came. */
    applied: v.boolean('is not true or false'),
  },
  'is not an offset between switches',
);

/** So many cycles of the last so many. */
export const cyclesOf = v.pipe(
  v.object({ cycles: between(1, 100, 'cycles'), of: between(1, 100, 'cycles') }, 'is not a number of cycles'),
  v.check(({ cycles, of }) => cycles <= of, 'asks for more cycles than it looks at'),
);
/** When a weaned count falls silent and returns; see count/weaning.ts. */
export const weaningSchema = v.object(
  { silentAfter: cyclesOf, returnsAfter: cyclesOf, leastMs: between(0, 600_000, 'ms') },
  'is not a rule for weaning',
);

/** The longest title that a drill is given in the Ledger, in characters (tool default). */
export const LONGEST_TITLE = 120;
