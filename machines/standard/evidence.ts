import type { BeatTimeline } from '../count/beat-timeline.ts';
import type { DrillFold } from '../drill-fold.ts';
import type { OpenLine, Person, Rig, Roles, TickLine } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { rigOfStretch } from '../rig-check/rig-check.ts';
import type { HandoverReason } from '../scoring/arrangement.ts';
import type { HandoverOutcome } from '../scoring/bout.ts';
import type { CycleRow } from '../scoring/cycle-row.ts';
import { handoverReport } from '../scoring/handover-figures.ts';
import { type Instrument, instrumentOf } from '../scoring/instrument.ts';
import { boutRowsOf, isSlowed, rowsOf } from '../scoring/report.ts';
import type { TickSeen } from '../ticks.ts';
import { type Ms, toMs, toUs } from '../units.ts';

/**
 * What of a drill counts for a standard. A cycle counts when it is unled from its start to its end, no count was heard or seen in it, it
 * is at the guideline's tempo, and its bout is not slowed and of the drill's own rig. Weaned cycles never count, the silent ones
 * neither: the pair had the count until a moment ago, and it comes back.
 */
export type DrillEvidence = {
  openedAt: string;
  rig: Rig;
  /** Was the rig checked that day, and the check passed? Journals of before rig checks do not say so. */
  isRigChecked: boolean;
  people: OpenLine['people'];
  /** One for each bout with cycles that count. */
  stretches: readonly Stretch[];
  /** Handovers whose last cycle before and first cycle after both count. */
  handovers: readonly { reasons: readonly HandoverReason[]; outcome: HandoverOutcome; pauseMs: Ms | null }[];
  /** Ticks made while such a cycle was on, or was the last one, in order of time. */
  ticks: readonly { item: string; seen: TickSeen; by: TickLine['by']; bout: number; roles: Roles }[];
  /** Complete cycles that do not count, each by the first of these reasons that it has. */
  leftOut: { missed: number; otherRig: number; slowed: number; otherTempo: number; guided: number };
};

export type Stretch = {
  roles: Roles;
  /** Neighbouring cycles that count; no figure reaches from one list to the next. */
  runs: readonly (readonly CycleRow[])[];
  instrument: Instrument;
};

export type Role = keyof Roles;
/** A drill, and which of its two people is looked at. */
export type Held = { person: Person; evidence: DrillEvidence };

type CountedBout = { rows: readonly CycleRow[]; counts: readonly boolean[]; reasons: readonly Reason[] };
type Reason = keyof DrillEvidence['leftOut'] | null;

/** The evidence of a drill whose journal has ended. */
export function evidenceOf(fold: DrillFold): DrillEvidence {
  const { open, tracker } = fold;
  const { bouts } = tracker.book;
  const allRows = boutRowsOf(fold);
  const counted = bouts.map((bout, index): CountedBout => {
    const rows = allRows.filter((row) => row.bout === index);
    const ofBout =
      rigOfStretch(open, bout) !== open.rig ? 'otherRig' : isSlowed(bout, rows) ? 'slowed' : null;
    const reasons = rows.map((row) => (row.isLeftOut ? 'missed' : (ofBout ?? whyNot(row, fold.beats))));
    return { rows, reasons, counts: reasons.map((reason) => reason === null) };
  });
  const reasons = counted.flatMap((bout) => bout.reasons);
  const leftOutBy = (wanted: Reason) => reasons.filter((reason) => reason === wanted).length;
  return {
    openedAt: open.openedAt,
    rig: open.rig,
    isRigChecked: open.rigCheck?.outcome === 'passed',
    people: open.people,
    stretches: bouts.flatMap(({ roles }, index): Stretch[] => {
      const runs = runsOf(counted[index]);
      if (runs.length === 0) return [];
      return [{ roles, runs, instrument: instrumentOf(open, [roles.compressor]) }];
    }),
    handovers: tracker.handovers.flatMap((handover) => {
      if (handover.newBout === null) return [];
      const isUnled =
        counted[handover.oldBout]?.counts.at(-1) === true && counted[handover.newBout]?.counts[0] === true;
      if (!isUnled) return [];
      const { reasons, outcome, pauseMs } = handoverReport(handover, bouts, (bout) => rowsOf(fold, bout), {
        tolerance: open.tolerance,
        leftOut: fold.remarks.leftOut,
      });
      return [{ reasons, outcome, pauseMs: typeof pauseMs === 'number' ? pauseMs : null }];
    }),
    ticks: fold.ticks.flatMap(({ at, item, met, by }) => {
      const atUs = toUs(at);
      const bout = Math.max(
        0,
        bouts.findLastIndex(({ startUs }) => startUs <= atUs),
      );
      const rows = counted[bout]?.rows ?? [];
      const row = Math.max(
        0,
        rows.findLastIndex(({ startUs }) => startUs <= atUs),
      );
      const roles = bouts[bout]?.roles;
      if (roles === undefined || counted[bout]?.counts[row] !== true) return [];
      return [{ item, seen: met === null ? 'not seen' : met ? 'met' : 'not met', by, bout, roles }];
    }),
    leftOut: {
      missed: leftOutBy('missed'),
      otherRig: leftOutBy('otherRig'),
      slowed: leftOutBy('slowed'),
      otherTempo: leftOutBy('otherTempo'),
      guided: leftOutBy('guided'),
    },
  };
}

/** The cycles that count of the bouts in which somebody held a role, one list a run. */
export function runsOfRole(
  { stretches }: Pick<DrillEvidence, 'stretches'>,
  person: Person,
  role: Role,
): readonly (readonly CycleRow[])[] {
  return stretches.filter(({ roles }) => roles[role] === person).flatMap(({ runs }) => runs);
}

/** How long they last. */
export function lengthOfRuns(runs: readonly (readonly CycleRow[])[]): Ms {
  return toMs(runs.flat().reduce((sum, row) => sum + row.lengthUs, 0));
}

function whyNot(row: CycleRow, beats: BeatTimeline): Reason {
  if (row.idealUs !== toUs(CYCLE_MS)) return 'otherTempo';
  const isSilent = beats.isGivenIn(row.startUs, row.startUs + row.lengthUs, row.idealUs) === false;
  return row.guidance === 'unled' && !row.guidanceChanged && isSilent ? null : 'guided';
}

function runsOf(bout: CountedBout | undefined): CycleRow[][] {
  const runs: CycleRow[][] = [];
  for (const [index, row] of (bout?.rows ?? []).entries()) {
    if (bout?.counts[index] !== true) continue;
    if (index === 0 || bout.counts[index - 1] !== true) runs.push([row]);
    else runs.at(-1)?.push(row);
  }
  return runs;
}
