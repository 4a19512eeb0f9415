import type { Press } from '../presses.ts';
import type { Us } from '../units.ts';
import type { Arrangement, HandoverReason } from './arrangement.ts';

/** A stretch of what really happened with the same roles, technique and stance. */
export type Bout = Arrangement & {
  startUs: Us;
  /** First new, or the rest or check call; null when the finish or the journal's end ended it. */
  endUs: Us | null;
  /** T when it started. */
  idealUs: Us;
  /** Its rows are those from `fromRow` up to but not with `toRow`. */
  fromRow: number;
  toRow: number;
  firstBreath: Press | null;
  lastBreath: Press | null;
  lastCompression: Press;
};

export type HandoverOutcome = 'taken up' | 'seamless' | 'never taken up' | 'withdrawn' | 'cut short';

/** What followed a swap, technique or stance call. Presses are null unless it was taken up or seamless. */
export type Handover = {
  reasons: HandoverReason[];
  calledUs: Us;
  /** Null while it is open. */
  outcome: HandoverOutcome | null;
  lastOld: Press | null;
  firstNew: Press | null;
  /** Indexes of the bouts before and after. */
  oldBout: number;
  newBout: number | null;
  /** Presses of the old compressor after the first new; null with `place` binding, which cannot see them. */
  strays: number | null;
};

/** A heart-rate check. */
export type Check = { calledUs: Us; lastCompression: Press | null; nextBout: number | null };

/** Where a drill stands. */
export type Phase = 'idle' | 'waiting' | 'running' | 'resting' | 'checking' | 'finished';
