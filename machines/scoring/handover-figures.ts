import type { OpenLine } from '../journal.ts';
import { type Ms, toMs, type Us } from '../units.ts';
import type { HandoverReason } from './arrangement.ts';
import type { Bout, Check, Handover, HandoverOutcome } from './bout.ts';
import { type CycleRow, isCoordinated } from './cycle-row.ts';
import { type Figure, figure, type NoFigure, none } from './figure.ts';
import { LEFT_OUT_REASON } from './left-out.ts';

/** A handover's figures; null with a reason unless it was taken up or seamless. Times in ms on the drill's clock. */
export type HandoverReport = {
  reasons: readonly HandoverReason[];
  outcome: HandoverOutcome;
  calledMs: Ms;
  lastOldMs: Figure;
  firstNewMs: Figure;
  /** Without compressions: last old's release to first new, never under 0. */
  pauseMs: Figure;
  /** Called to first new. Finishing the cycle first is good: never "faster is better". */
  resumeMs: Figure;
  /** The old bout's last breath to the new bout's first. */
  breathGapMs: Figure;
  /** Cycles that would have fitted into the gap, beyond the pattern's own. */
  cyclesLost: Figure;
  /** Is the new bout's first complete cycle coordinated? */
  firstCycleRight: boolean | NoFigure;
  /** Coordinated among the last five cycles before that count, and the first five after. */
  before5: Figure;
  after5: Figure;
  /** First new to the start of the first three coordinated cycles in a row; one that is left out breaks a row. */
  settleMs: Figure;
  /** Presses of the old compressor after the first new: counted, not scored. */
  strays: Figure;
};

/**
 * When the first coordinated cycle of the bout after a handover started, in ms on the drill's clock; null when the
 * handover has no bout after it, or no cycle of that is coordinated.
 */
export function firstRightMsOf(
  { firstNewMs }: HandoverReport,
  bouts: readonly { startMs: Ms }[],
  rows: readonly (CycleRow & { bout: number; isLeftOut: boolean })[],
  tolerance: OpenLine['tolerance'],
): Ms | null {
  const fresh = bouts.findLastIndex(({ startMs }) => startMs === firstNewMs);
  const right = rows.find((row) => row.bout === fresh && !row.isLeftOut && isCoordinated(row, tolerance));
  return right === undefined ? null : toMs(right.startUs);
}

export type CheckReport = { calledMs: Ms; pauseMs: Figure };

const FEW = 5;
const SETTLED = 3;

/** The handover's figures, from its presses and all rows of the bouts before and after it. `leftOut` has the starts of those that do not count. */
export function handoverReport(
  handover: Handover,
  bouts: readonly Bout[],
  rowsOf: (bout: Bout) => readonly CycleRow[],
  { tolerance, leftOut }: { tolerance: OpenLine['tolerance']; leftOut: ReadonlySet<Us> },
): HandoverReport {
  const outcome = handover.outcome ?? 'cut short';
  const base = { reasons: handover.reasons, outcome, calledMs: toMs(handover.calledUs) };
  const { lastOld, firstNew } = handover;
  const old = bouts[handover.oldBout];
  const fresh = handover.newBout === null ? undefined : bouts[handover.newBout];
  if (lastOld === null || firstNew === null || old === undefined || fresh === undefined) {
    const no = none(outcome);
    return {
      ...base,
      lastOldMs: no,
      firstNewMs: no,
      pauseMs: no,
      resumeMs: no,
      breathGapMs: no,
      cyclesLost: no,
      firstCycleRight: no,
      before5: no,
      after5: no,
      settleMs: no,
      strays: no,
    };
  }
  const right = (row: CycleRow) => (leftOut.has(row.startUs) ? null : isCoordinated(row, tolerance));
  const before = rowsOf(old).map(right);
  const rows = rowsOf(fresh);
  const after = rows.map(right);
  const gapUs = firstNew.onUs - lastOld.onUs;
  const breathGapUs =
    old.lastBreath === null || fresh.firstBreath === null
      ? null
      : fresh.firstBreath.onUs - old.lastBreath.onUs;
  const settled = after.findIndex((_, index) => isRun(after, index));
  const settledRow = rows[settled];
  return {
    ...base,
    lastOldMs: toMs(lastOld.onUs),
    firstNewMs: toMs(firstNew.onUs),
    pauseMs: toMs(Math.max(0, firstNew.onUs - lastOld.offUs)),
    resumeMs: toMs(firstNew.onUs - handover.calledUs),
    breathGapMs: breathGapUs === null ? none('no breath on one side') : toMs(breathGapUs),
    cyclesLost: Math.max(0, (gapUs - fresh.idealUs / 2) / fresh.idealUs),
    firstCycleRight: after[0] ?? none(after.length === 0 ? 'no complete cycle after it' : LEFT_OUT_REASON),
    before5: coordinatedOf(before.filter(isCounted).slice(-FEW), 'under five cycles before it'),
    after5: coordinatedOf(after.filter(isCounted).slice(0, FEW), 'under five cycles after it'),
    settleMs: settledRow === undefined ? none('not settled') : toMs(settledRow.startUs - firstNew.onUs),
    strays: figure(handover.strays, 'only seen when each keeps a switch and the roles change'),
  };
}

/** A check is never a fault; its default goal is 10 s. */
export function checkReport(check: Check, bouts: readonly Bout[]): CheckReport {
  const calledMs = toMs(check.calledUs);
  const next = check.nextBout === null ? undefined : bouts[check.nextBout];
  if (check.lastCompression === null) return { calledMs, pauseMs: none('no compression before it') };
  if (next === undefined) return { calledMs, pauseMs: none('no compression after it') };
  return { calledMs, pauseMs: toMs(Math.max(0, next.startUs - check.lastCompression.offUs)) };
}

function coordinatedOf(cycles: readonly boolean[], reason: string): Figure {
  return cycles.length < FEW ? none(reason) : cycles.filter(Boolean).length;
}

function isCounted(isRight: boolean | null): isRight is boolean {
  return isRight !== null;
}

function isRun(cycles: readonly (boolean | null)[], from: number): boolean {
  return cycles.length >= from + SETTLED && cycles.slice(from, from + SETTLED).every(Boolean);
}
