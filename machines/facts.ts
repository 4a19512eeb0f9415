import type { CallLine } from './journal.ts';
import type { HandoverOutcome } from './scoring/bout.ts';
import type { Ms } from './units.ts';

/**
 * What the fold says happened, in the past tense, as the chart and the screens need it.
 * `atMs` is the time of what happened; a fact can be known a little later than that.
 */
export type Fact =
  | { type: 'call accepted'; atMs: Ms; call: CallLine }
  | { type: 'compression began'; atMs: Ms }
  | { type: 'compression ended'; atMs: Ms }
  | { type: 'breath began'; atMs: Ms }
  | { type: 'breath ended'; atMs: Ms }
  | { type: 'breath missed'; atMs: Ms }
  | { type: 'cycle started'; atMs: Ms }
  /** Where the count stands now, by the journal: one of its "ones", and its cycle. */
  | { type: 'count given'; atMs: Ms; fromMs: Ms; cycleMs: Ms }
  | { type: 'cycle completed'; atMs: Ms; row: number }
  | { type: 'bout started'; atMs: Ms; bout: number }
  | { type: 'bout ended'; atMs: Ms; bout: number }
  /** With `person` binding, the old compressor pressed on after the new one had begun; `count`: so many times in this bout. */
  | { type: 'stray counted'; atMs: Ms; count: number }
  | { type: 'handover opened'; atMs: Ms }
  | { type: 'handover closed'; atMs: Ms; handover: number; outcome: HandoverOutcome };
