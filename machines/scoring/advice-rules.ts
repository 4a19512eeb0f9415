import type { Roles } from '../journal.ts';
import type { Ms, Share } from '../units.ts';
import type { Cause } from './advice-causes.ts';

/**
 * The rules of advice, in the order in which they are asked: of those that hold for a person the first is the one thing to try. Who
 * began too soon comes first, then what is not there at all, then what is in the wrong place. A breath that always comes late is let go late
 * as well: so it stands before that. All numbers are tool defaults.
 */

/**
 * When a thing that happens in some cycles is worth telling. It happened in `least` cycles: once or twice is a lapse, or a press
 * that a switch missed. In a share of at least `smallest`: less would not be felt. And the exact 95 % interval of that share lies above
 * `stray`: what a practised pair does now and then, or a switch misses (machines/rehearsal/faults.ts has 1 or 2 in 100).
 */
export type ShareLimits = { least: number; smallest: Share; stray: Share };
const USUAL: ShareLimits = { least: 3, smallest: 0.1, stray: 0.02 };
/** No switch makes a pause, which is two presses and more; and each is long: so fewer are enough. */
const OF_PAUSES: ShareLimits = { least: 2, smallest: 0.03, stray: 0.005 };

/** What a mean is of, over cycles of three compressions and a breath: see advice-evidence.ts. */
export type MeanName = 'lagRatio' | 'interval' | 'start';

export type PersonRule = { id: string; role: keyof Roles } & (
  | { by: 'share'; cause: Cause; limits: ShareLimits }
  /** The mean is off its ideal, to one side, by more than its ± and by `smallest` or more, in the mean's own unit. */
  | { by: 'mean'; of: MeanName; side: 'below' | 'above'; smallest: number }
  /** The interval of a bout's change of pace excludes 0, and over the bout it comes to so many % or more. */
  | { by: 'pace change'; smallestPct: number }
);

/** 100 ms at the guideline's beat of 500: what is less is not said to learners (design section 7). */
const LEAST_LAG_RATIO = 0.2;
const LEAST_MS: Ms = 100;
/** 5 % of a beat: 100 ms a cycle, or some five compressions a minute of 90. */
const LEAST_PACE_MS: Ms = 25;
const LEAST_PACE_CHANGE_PCT = 5;

export const PERSON_RULES = [
  { id: 'breath-too-soon', role: 'ventilator', by: 'share', cause: 'breath too soon', limits: USUAL },
  {
    id: 'compression-too-soon',
    role: 'compressor',
    by: 'share',
    cause: 'compression too soon',
    limits: USUAL,
  },
  {
    id: 'breath-before-third',
    role: 'ventilator',
    by: 'share',
    cause: 'breath before the third',
    limits: USUAL,
  },
  { id: 'no-room', role: 'compressor', by: 'share', cause: 'no room', limits: USUAL },
  { id: 'no-breath', role: 'ventilator', by: 'share', cause: 'no breath', limits: USUAL },
  { id: 'pause', role: 'compressor', by: 'share', cause: 'pause', limits: OF_PAUSES },
  { id: 'four-compressions', role: 'compressor', by: 'share', cause: 'four compressions', limits: USUAL },
  {
    id: 'compression-not-registered',
    role: 'compressor',
    by: 'share',
    cause: 'compression not registered',
    limits: USUAL,
  },
  { id: 'several-breaths', role: 'ventilator', by: 'share', cause: 'several breaths', limits: USUAL },
  { id: 'compression-held', role: 'compressor', by: 'share', cause: 'compression held', limits: USUAL },
  {
    id: 'breath-early',
    role: 'ventilator',
    by: 'mean',
    of: 'lagRatio',
    side: 'below',
    smallest: LEAST_LAG_RATIO,
  },
  {
    id: 'breath-late',
    role: 'ventilator',
    by: 'mean',
    of: 'lagRatio',
    side: 'above',
    smallest: LEAST_LAG_RATIO,
  },
  { id: 'let-go-late', role: 'ventilator', by: 'share', cause: 'let go late', limits: USUAL },
  { id: 'breath-early-at-times', role: 'ventilator', by: 'share', cause: 'breath early', limits: USUAL },
  { id: 'breath-late-at-times', role: 'ventilator', by: 'share', cause: 'breath late', limits: USUAL },
  { id: 'pace-fast', role: 'compressor', by: 'mean', of: 'interval', side: 'below', smallest: LEAST_PACE_MS },
  { id: 'pace-slow', role: 'compressor', by: 'mean', of: 'interval', side: 'above', smallest: LEAST_PACE_MS },
  { id: 'uneven', role: 'compressor', by: 'share', cause: 'uneven', limits: USUAL },
  { id: 'start-early', role: 'compressor', by: 'mean', of: 'start', side: 'below', smallest: LEAST_MS },
  { id: 'start-late', role: 'compressor', by: 'mean', of: 'start', side: 'above', smallest: LEAST_MS },
  { id: 'pace-change', role: 'compressor', by: 'pace change', smallestPct: LEAST_PACE_CHANGE_PCT },
] as const satisfies readonly PersonRule[];
export type PersonRuleId = (typeof PERSON_RULES)[number]['id'];

/** Rules of the pair, in the order in which they are asked. */
export const PAIR_RULES = [
  'handover-long',
  'handover-not-taken-up',
  'order-lost',
  'too-few-compressions',
] as const;
export type PairRuleId = (typeof PAIR_RULES)[number];

export const PAIR_LIMITS = {
  /**
   * A handover is long from so much without compressions: general teaching is under 5 s (see machines/rehearsal/handovers.ts), no
   * length was published for the newborn. A breath is a cycle apart in any case. Both are plain times, good to the switches' steps.
   */
  handover: { pauseMs: 5000, breathGapMs: 7000 },
  /** Order: three compressions and a breath without a clash. It is lost when both exact intervals lie apart and the shares differ by so much. */
  orderLost: { smallest: 0.2 },
  tooFew: USUAL,
} as const;

/**
 * Praise, asked in this order; the first that was earned is given. The exact interval of the share of cycles without any of the
 * person's causes lies above four in five (`PRAISE_LIMITS.share`), and half of the cycles in that role were coordinated or more, through whomever the others were
 * not: praise beside "0 of your 20 cycles" is not believed, and right only of a part. `notWith`: advice that it would contradict.
 */
export const PRAISE_RULES = [
  {
    id: 'breath-in-place',
    role: 'ventilator',
    notWith: [
      'breath-too-soon',
      'breath-before-third',
      'no-breath',
      'several-breaths',
      'breath-early',
      'breath-late',
      'breath-early-at-times',
      'breath-late-at-times',
    ],
  },
  {
    id: 'three-each',
    role: 'compressor',
    notWith: [
      'compression-too-soon',
      'no-room',
      'four-compressions',
      'compression-not-registered',
      'compression-held',
      'pause',
      'pace-fast',
      'pace-slow',
      'uneven',
      'start-early',
      'start-late',
      'pace-change',
    ],
  },
] as const satisfies readonly { id: string; role: keyof Roles; notWith: readonly PersonRuleId[] }[];
export type PraiseRuleId = (typeof PRAISE_RULES)[number]['id'];

export const PRAISE_LIMITS = {
  share: 0.8,
  coordinated: 0.5,
  /** Every handover of the drill taken up within so long, the first cycle after it right, and so many of the first five. */
  handover: { mostPauseMs: 3000, after5: 4 },
} as const;

/** Under so many cycles in a role, 24 s, nothing is said of a person's timing but what to do: go on. */
export const FEWEST_CYCLES = 12;
