import type { CallLine, Switch } from '../../machines/journal.ts';
import type { Arrangement, HandoverReason } from '../../machines/scoring/arrangement.ts';
import type { HandoverOutcome } from '../../machines/scoring/bout.ts';
import type { CycleRow } from '../../machines/scoring/cycle-row.ts';
import type { ReferenceJournal, ReferencePress } from './reference-journal.ts';

/** What the reference scoring finds, in whole microseconds. */
export type ReferenceScore = {
  bouts: { startUs: number; endUs: number; arrangement: Arrangement; rows: CycleRow[] }[];
  handovers: ReferenceHandover[];
  checks: { calledUs: number; pauseUs: number | null }[];
  scored: { compressions: number; breaths: number };
  /** Numbers of the lines whose call was ignored. */
  ignored: number[];
};
export type ReferenceHandover = {
  reasons: HandoverReason[];
  calledUs: number;
  outcome: HandoverOutcome;
  lastOldUs: number | null;
  firstNewUs: number | null;
  /** Index of the bout after it. */
  newBout: number | null;
  pauseUs: number | null;
  breathGapUs: number | null;
  strays: number | null;
};

export type ReferenceBout = {
  fromLine: number;
  toLine: number;
  endUs: number | null;
  startUs: number;
  arrangement: Arrangement;
};
export type OpenHandover = {
  entry: ReferenceHandover;
  called: Arrangement;
  line: number;
  atUs: number;
  isTaken: boolean;
};
export const isChange = (line: CallLine): line is Extract<CallLine, { call: HandoverReason }> =>
  line.call === 'swap' || line.call === 'technique' || line.call === 'stance';

/** Someone whose presses are strays between two lines, and the lines that settle what is not known by then. */
export type StrayTime = { by: Switch; from: number; to: number; settledAt: number[] };

/** From first new on, until the first with no other of theirs within 0.4 T on either side. */
export function straysIn(
  journal: ReferenceJournal,
  { by, from, to, settledAt }: StrayTime,
): ReferencePress[] {
  const theirs = journal.presses.filter((press) => press.switch === by);
  const alone = theirs.find((press, index) => {
    const before = theirs[index - 1];
    const after = theirs[index + 1];
    if (press.line < from || (before !== undefined && journal.isClose(before, press))) return false;
    if (after === undefined || after.line > to) return true;
    return !journal.isFollowed(press, after) || settledAt.some((at) => at > press.line && at < after.line);
  });
  return theirs.filter(({ line }) => line >= from && line < Math.min(to, alone?.line ?? to));
}

/** The old compressor's presses before the call, and those at most 0.4 T after another of theirs. */
export function oldCompressions(
  journal: ReferenceJournal,
  inBout: readonly ReferencePress[],
  compressor: Switch,
  callLine: number,
): ReferencePress[] {
  const ofOld = inBout.filter((press) => press.switch === compressor);
  return ofOld.filter((press, index) => {
    const before = ofOld[index - 1];
    return press.line < callLine || (before !== undefined && journal.isClose(before, press));
  });
}

/** The other's presses that may be first new: later than the call by under 30 s, and not the breath still owed. */
export function candidatesFor(
  journal: ReferenceJournal,
  inBout: readonly ReferencePress[],
  compressor: Switch,
  call: { line: number; atUs: number },
): ReferencePress[] {
  const old = oldCompressions(journal, inBout, compressor, call.line);
  const ofOther = inBout.filter((press) => press.switch !== compressor);
  return ofOther.filter((press, index) => {
    const lastOld = old.findLast(({ line }) => line < press.line);
    if (lastOld === undefined) return false;
    const isFirst = (ofOther[index - 1]?.line ?? -1) < lastOld.line;
    const isOwed = isFirst && journal.isClose(lastOld, press, 5);
    return !isOwed && press.line > call.line && press.onUs > call.atUs && press.onUs < call.atUs + 30_000_000;
  });
}

/** A handover that has just opened. */
export function openedAt(calledUs: number): ReferenceHandover {
  return {
    reasons: [],
    calledUs,
    outcome: 'cut short',
    lastOldUs: null,
    firstNewUs: null,
    newBout: null,
    pauseUs: null,
    breathGapUs: null,
    strays: null,
  };
}

/** From the last breath of the old bout to the first of the new, by their onsets. */
export function breathGap(
  oldBreaths: readonly ReferencePress[],
  newBreaths: readonly ReferencePress[],
): number | null {
  const last = oldBreaths.at(-1);
  const [first] = newBreaths;
  return last === undefined || first === undefined ? null : first.onUs - last.onUs;
}
