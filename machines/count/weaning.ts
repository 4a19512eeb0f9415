import type { WeaningRule } from '../journal.ts';
import type { Ms } from '../units.ts';

/** Tool defaults: silent after 8 coordinated cycles of 10, back after 3 not coordinated of 5, 15 s each way. */
export const WEANING: WeaningRule = {
  silentAfter: { cycles: 8, of: 10 },
  returnsAfter: { cycles: 3, of: 5 },
  leastMs: 15_000,
};

/** Since the count was last heard or silent: from when, and which complete cycles were coordinated, in order. */
export type Weaning = { sinceMs: Ms; coordinated: readonly boolean[] };

/** The weaning after one more complete cycle; no more are kept than a rule looks at. */
export function withCycle(weaning: Weaning, isCoordinated: boolean, rule: WeaningRule): Weaning {
  const kept = Math.max(rule.silentAfter.of, rule.returnsAfter.of);
  return { ...weaning, coordinated: [...weaning.coordinated, isCoordinated].slice(-kept) };
}

/** Is the pair steady enough, for long enough, that a count that is heard falls silent? */
export function isSteady({ sinceMs, coordinated }: Weaning, atMs: Ms, rule: WeaningRule): boolean {
  const { cycles, of } = rule.silentAfter;
  return atMs - sinceMs >= rule.leastMs && coordinated.slice(-of).filter(Boolean).length >= cycles;
}

/** Has the pair lost the rhythm, after silence for long enough, so that the count returns? */
export function isLost({ sinceMs, coordinated }: Weaning, atMs: Ms, rule: WeaningRule): boolean {
  const { cycles, of } = rule.returnsAfter;
  return atMs - sinceMs >= rule.leastMs && coordinated.slice(-of).filter((is) => !is).length >= cycles;
}
