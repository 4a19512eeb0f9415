import * as v from 'valibot';
import { TICK_ITEMS } from '../ticks.ts';

/**
 * A course's own standard: what the instructor holds a learner's drills against. This file is the schema of standard files, version 1.
 * The tool says met, not yet or not assessed of each requirement; the instructor decides, and signs.
 */

export const STANDARD_VERSION = 1;
const STANDARD_KIND = 'antiphon-standard';
export const STANDARD_SUFFIX = '.antiphon-standard.json';

const text = (longest: number) =>
  v.pipe(v.string('is not text'), v.maxLength(longest, `is longer than ${longest} characters`));
const between = (low: number, high: number, unit: string) =>
  v.pipe(
    v.number('is not a number'),
    v.check((n: number) => n >= low && n <= high, `is not ${low} to ${high} ${unit}`.trimEnd()),
  );
const least = (low: number, high: number, unit: string) =>
  v.object({ least: between(low, high, unit) }, 'has no least');
const most = (low: number, high: number, unit: string) =>
  v.object({ most: between(low, high, unit) }, 'has no most');
const range = (low: number, high: number, unit: string) =>
  v.pipe(
    v.object(
      { least: v.optional(between(low, high, unit)), most: v.optional(between(low, high, unit)) },
      'has neither least nor most',
    ),
    v.check(
      (limits) => limits.least !== undefined || limits.most !== undefined,
      'has neither least nor most',
    ),
    v.check((limits) => (limits.least ?? low) <= (limits.most ?? high), 'has its least above its most'),
  );
const isNotEmpty = (asked: Readonly<Record<string, unknown>>) =>
  Object.values(asked).some((value) => value !== undefined);

/** Limits of figures, by the names that figures have in every report (design section 5). */
const timingSchema = v.pipe(
  v.object(
    {
      coordinatedShare: v.optional(least(0, 1, '')),
      compressionsPerMin: v.optional(range(0, 300, 'a minute')),
      breathsPerMin: v.optional(range(0, 300, 'a minute')),
      cycleJitterMs: v.optional(most(0, 10_000, 'ms')),
      /** Breaths that clash, in all that is counted in a role. */
      'clash.count': v.optional(most(0, 1000, 'clashes')),
      'pauses.longestMs': v.optional(most(0, 60_000, 'ms')),
      /** The longest of any handover, in ms without compressions. */
      'handovers.pauseMs': v.optional(most(0, 60_000, 'ms')),
    },
    'is not a list of limits',
  ),
  v.check((asked) => isNotEmpty(asked), 'asks for nothing'),
);
const seconds = between(1, 3600, 's');

export const standardSchema = v.object(
  {
    kind: v.literal(STANDARD_KIND, `is not ${STANDARD_KIND}`),
    version: v.literal(STANDARD_VERSION, `is not ${STANDARD_VERSION}`),
    name: v.pipe(
      text(80),
      v.check((name) => name.trim() !== '', 'is empty'),
    ),
    /** Whose it is, and what else the instructor is to look at. */
    note: v.optional(text(1000)),
    /** Whatever is left out is not asked for. */
    requires: v.pipe(
      v.object(
        {
          rig: v.optional(v.literal('manikin', 'is not manikin')),
          /** Seconds of complete unled cycles in each role. Limits are held against the roles named here; with none, both. */
          unledSeconds: v.optional(
            v.pipe(
              v.object(
                { compressor: v.optional(seconds), ventilator: v.optional(seconds) },
                'is not seconds by role',
              ),
              v.check((asked) => isNotEmpty(asked), 'asks for nothing'),
            ),
          ),
          /** A swap that was taken up, unled on both sides. */
          swap: v.optional(v.literal(true, 'is not true')),
          timing: v.optional(timingSchema),
          /** What the instructor has to have seen met, in the role it belongs to. */
          ticks: v.optional(
            v.pipe(
              v.array(
                v.picklist(TICK_ITEMS, `is not one of ${TICK_ITEMS.join(', ')}`),
                'is not a list of ticks',
              ),
              v.minLength(1, 'is empty'),
              v.check((items) => new Set(items).size === items.length, 'names one twice'),
            ),
          ),
        },
        'is not a list of requirements',
      ),
      v.check((asked) => isNotEmpty(asked), 'asks for nothing'),
    ),
  },
  'is not a standard',
);

export type Standard = v.InferOutput<typeof standardSchema>;
export type Limits = { least?: number | undefined; most?: number | undefined };
/** The figures a standard can limit in each role. */
export const LIMITED_FIGURES = [
  'coordinatedShare',
  'compressionsPerMin',
  'breathsPerMin',
  'cycleJitterMs',
  'clash.count',
  'pauses.longestMs',
] as const;
export type LimitedFigure = (typeof LIMITED_FIGURES)[number];

/** Every number of it is a tool default. A leg of a minute leaves some 57 s of complete cycles. */
export const EXAMPLE_STANDARD: Standard = {
  kind: STANDARD_KIND,
  version: STANDARD_VERSION,
  name: 'Example',
  note: 'An example, made of tool defaults: your course’s own standard replaces it.',
  requires: {
    rig: 'manikin',
    unledSeconds: { compressor: 50, ventilator: 50 },
    swap: true,
    timing: {
      coordinatedShare: { least: 0.7 },
      compressionsPerMin: { least: 80, most: 100 },
      breathsPerMin: { least: 26, most: 34 },
      cycleJitterMs: { most: 150 },
      'clash.count': { most: 2 },
      'pauses.longestMs': { most: 3000 },
      'handovers.pauseMs': { most: 5000 },
    },
    ticks: ['chest-rise', 'full-release', 'depth', 'position'],
  },
};
