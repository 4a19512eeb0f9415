import type { CallName, Person } from '../journal.ts';
import type { Ms } from '../units.ts';
import type { Fault } from './faults.ts';
import type { HandoverKind } from './handovers.ts';
import type { PairModel } from './people.ts';

/** What was really done in a rehearsal, for tests to compare a score with. Times are drill ms as they stand in the journal. */
export type Truth = {
  /** The two people as they were drawn, with what was overridden. */
  pair: PairModel;
  /** Every cycle that was begun, `cycle` counted from 0 over the drill; `startMs` is its first compression's onset. */
  cycles: { cycle: number; startMs: Ms; compressor: Person }[];
  /** Every fault that came about. One that a call overtook (the cycle after it never came in the same bout) is not here. */
  faults: PlayedFault[];
  handovers: PlayedHandover[];
};

/**
 * `atMs`: when a missed breath was due, else the onset of the fourth compression, of the early breath or of the compression into the
 * breath, the release of the breath let go late, or the onset of the breath before a stall.
 */
type PlayedFault = { cycle: number; fault: Fault; atMs: Ms };

/** A handover while the pair was compressing; `cycle` is the first of the new hands. */
type PlayedHandover = {
  cycle: number;
  reasons: CallName[];
  calledMs: Ms;
  kind: HandoverKind;
  lastOldMs: Ms;
  firstNewMs: Ms;
  /** When `taken` was called; null if it was not. */
  takenMs: Ms | null;
  /** Presses that the old compressor made out of habit. */
  strays: number;
};

/** The truth with every time put through the same rounding as the journal's. */
export function roundTruth(truth: Truth, round: (ms: Ms) => Ms): Truth {
  return {
    pair: truth.pair,
    cycles: truth.cycles.map((one) => ({ ...one, startMs: round(one.startMs) })),
    faults: truth.faults.map((one) => ({ ...one, atMs: round(one.atMs) })),
    handovers: truth.handovers.map((one) => ({
      ...one,
      lastOldMs: round(one.lastOldMs),
      firstNewMs: round(one.firstNewMs),
    })),
  };
}
