import type { CountOrder } from './count/count-order.ts';
import type { Weaning } from './count/weaning.ts';
import type { Hint } from './hints.ts';
import type { Airway, Binding, CallLine, CallName, Guidance, Person, WeaningRule } from './journal.ts';
import type { Arrangement } from './scoring/arrangement.ts';
import type { HandoverOutcome } from './scoring/bout.ts';
import type { Ms } from './units.ts';

/** Time comes in with every event; the chart has no clock, no delay and starts nothing. */
type At = { atMs: Ms };
/** A call as the chart takes it: the journal's own line, under its name. */
export type CallEvent = {
  [N in CallName]: { type: `call.${N}`; line: Extract<CallLine, { call: N }> } & At;
}[CallName];
export type ChartEvent =
  | CallEvent
  | ({ type: 'compression began' | 'compression ended' | 'breath began' | 'breath ended' } & At)
  | ({ type: 'clash began' | 'breath missed' | 'cycle started' | 'bout started' | 'bout ended' } & At)
  | ({ type: 'cycle completed'; shows: Hint | null; isCoordinated: boolean } & At)
  | ({ type: 'count given'; fromMs: Ms; cycleMs: Ms } & At)
  | ({ type: 'stray counted'; count: number } & At)
  | ({ type: 'handover opened' } & At)
  | ({ type: 'handover closed'; outcome: HandoverOutcome } & At)
  | ({ type: 'clock ticked' } & At);

/** What the chart says to the outside, as data: the driver delivers it. */
export type ChartEmitted =
  | { type: 'hint given'; hint: Hint; atMs: Ms }
  /** To the one who compresses on after a swap: they have the breaths now. Once a bout. */
  | { type: 'breaths handed over'; to: Person; atMs: Ms }
  | { type: 'call announced'; call: CallName; atMs: Ms };

export type ChartContext = {
  binding: Binding;
  /** In force, and what was called and is not taken up yet (the same when no handover is open). */
  arrangement: Arrangement;
  called: Arrangement;
  airway: Airway;
  guidance: Guidance;
  cycleMs: Ms;
  heartRateBpm: number | null;
  /** When the last heart rate was shown to the learners; null when it was said, or tapped. */
  heartRateShownMs: Ms | null;
  /** The pair ventilates alone: until its first compression, by begin, or since a check that ended with 60 or more. */
  isVentilating: boolean;
  /** When the compressions began that are under way, or were last: since begin, a rest or a check, handovers included. */
  compressingSinceMs: Ms | null;
  /** The latest compression, in a bout or not. */
  lastCompressionMs: Ms | null;
  /** When the learner who compressed on was told that they have the breaths; null: not in this bout. */
  breathsToldMs: Ms | null;
  /** The count that is wanted, or was last; null before the first. */
  order: CountOrder | null;
  /** Where that count really stands, by the journal; null until it is said. */
  reading: { fromMs: Ms; cycleMs: Ms } | null;
  /** The pair's own last "one" since the stage it is in began; null before one. */
  lastOneMs: Ms | null;
  /** When the pair last went without a whole cycle for too long. */
  lastLapseMs: Ms | null;
  weaningRule: WeaningRule;
  weaning: Weaning;
  /** The latest call that undo could take back. */
  lastCall: { call: CallName; atMs: Ms } | null;
  /** What the last five cycles show. */
  recent: readonly (Hint | null)[];
  hint: { hint: Hint; atMs: Ms } | null;
};
