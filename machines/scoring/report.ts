import type { DrillFold } from '../drill-fold.ts';
import type {
  Binding,
  OpenLine,
  Person,
  Rig,
  RigCheck,
  Roles,
  SignatureLine,
  Stance,
  SwitchOffsetRecord,
  Technique,
} from '../journal.ts';
import { CYCLE_MS, guidelineOf } from '../pattern.ts';
import { signatureOf } from '../remarks.ts';
import { rigOfStretch } from '../rig-check/rig-check.ts';
import { type BoutTicks, ticksByBout } from '../ticks.ts';
import { type Ms, toMs, toUs, type Us } from '../units.ts';
import type { Bout } from './bout.ts';
import type { Comparison } from './comparisons.ts';
import { type CountFigures, countFiguresOf } from './count-figures.ts';
import type { CycleRow } from './cycle-row.ts';
import { type Figure, figure, type NoFigure, none } from './figure.ts';
import { type Figures, figuresOf, type PaceChange, paceChangeOf } from './figures.ts';
import { type CheckReport, checkReport, type HandoverReport, handoverReport } from './handover-figures.ts';
import { remarkWarnings, runsWithout, shareOf } from './left-out.ts';
import type { PlusMinus } from './plus-minus.ts';
import { type VentilationStageReport, ventilationStageOf } from './ventilation-stage.ts';

/** Every figure of some rows, with what the count does to them, and their ± where it was asked for. */
export type ReportFigures = Figures & {
  count: CountFigures;
  /** Complete cycles that are in none of these figures, since the instructor marked that a switch missed something. */
  leftOut: number;
  plusMinus?: PlusMinus;
};

/** `signedAt` is the station's wall clock, ISO 8601 in UTC. */
export type Signature = Pick<SignatureLine, 'signedAt' | 'by' | 'standard' | 'decision'>;

export type BoutReport = ReportFigures & {
  startMs: Ms;
  /** First new, the rest or check call, or the last release. */
  endMs: Ms;
  roles: Roles;
  technique: Technique;
  stance: Stance;
  /** `rhythm` in a manikin drill: a stretch with a technique or stance that the rig was not checked with. */
  rig: Rig;
  /** T when the bout started. */
  idealCycleMs: Ms;
  /** True when a cycle of it was run at a slower tempo: it stands in no headline. */
  slowed: boolean;
  paceChangePctPerMin: PaceChange;
  /** What was seen in it, by item; none on a rhythm rig. */
  ticks: BoutTicks;
};

/** Everything in bouts but cycles that are left out, by the time from each bout's start to its end, so that dead time shows. */
export type Attempt = { ms: Ms; compressionsPerMin: Figure; breathsPerMin: Figure };

export type DrillSummary = ReportFigures & {
  id: string;
  openedAt: string;
  rig: Rig;
  /** The day's rig check as the open line has it; null where it has none. */
  rigCheck: RigCheck | null;
  binding: Binding;
  tolerance: OpenLine['tolerance'];
  guideline: string;
  isClosed: boolean;
  /** Between the switches, and whether it was taken out: if not, or not known, figures between the two carry it. */
  switchOffset: SwitchOffsetRecord | NoFigure;
  attempt: Attempt;
  /** The instructor's latest; null: nobody has signed. */
  /** What the instructor signed for each; null: nothing. */
  signatures: Record<Person, Signature | null>;
  people: Record<Person, { name: string; compressor: ReportFigures; ventilator: ReportFigures }>;
};

/** What `score` prints and what the Debrief shows. */
export type DrillReport = {
  drill: DrillSummary;
  bouts: readonly BoutReport[];
  handovers: readonly HandoverReport[];
  checks: readonly CheckReport[];
  ventilationStage: VentilationStageReport | null;
  /** Filled by `withPlusMinus`, once at the end: none before. */
  comparisons: readonly Comparison[];
  warnings: readonly string[];
};

/** Were both techniques used? Then every page says that timing alone cannot compare them. */
export function hasTwoTechniques({ bouts }: Pick<DrillReport, 'bouts'>): boolean {
  return new Set(bouts.map((bout) => bout.technique)).size > 1;
}

/** A row with the bout it belongs to. `isLeftOut`: it is drawn, and in no figure. */
export type BoutRow = CycleRow & { bout: number; isLeftOut: boolean };

/** The report of a fold whose journal has ended. */
export function reportOf(
  fold: DrillFold,
  skipped?: { lines: number; fields: number; tornBytes: number },
): DrillReport {
  const { open, tracker } = fold;
  const { leftOut } = fold.remarks;
  const all = new Map(tracker.book.bouts.map((bout) => [bout, allRowsOf(fold, bout)]));
  const get = (bout: Bout) => all.get(bout) ?? [];
  const figures = figuresOnce((bouts) => {
    const runs = bouts.flatMap((bout) => runsWithout(get(bout), leftOut));
    const figures = figuresOf(runs, open.tolerance);
    const complete = bouts.reduce((sum, bout) => sum + get(bout).length, 0);
    return {
      ...figures,
      count: countFiguresOf(runs, open.tolerance, fold.beats),
      leftOut: complete - figures.cycles.total,
    };
  });
  const ticks = ticksByBout(
    fold.ticks,
    tracker.book.bouts.map(({ startUs }) => startUs),
  );
  const held = (person: Person, role: keyof Roles) =>
    figures(pooledBouts(fold).filter((bout) => bout.roles[role] === person));
  const person = (id: Person) => ({
    name: open.people[id],
    compressor: held(id, 'compressor'),
    ventilator: held(id, 'ventilator'),
  });
  return {
    drill: {
      id: open.id,
      openedAt: open.openedAt,
      rig: open.rig,
      rigCheck: open.rigCheck ?? null,
      binding: open.binding,
      tolerance: open.tolerance,
      guideline: open.guideline,
      isClosed: fold.isClosed,
      switchOffset: open.switchOffset ?? none('not known'),
      ...figures(pooledBouts(fold)),
      attempt: attemptOf(fold),
      signatures: { A: signedFor(fold, 'A'), B: signedFor(fold, 'B') },
      people: { A: person('A'), B: person('B') },
    },
    bouts: tracker.book.bouts.map((bout, index) => ({
      ...boutReport(bout, rigOfStretch(open, bout), figures([bout]), rowsOf(fold, bout)),
      ticks: ticks[index] ?? {},
    })),
    handovers: tracker.handovers.map((handover) =>
      handoverReport(handover, tracker.book.bouts, get, { tolerance: open.tolerance, leftOut }),
    ),
    checks: tracker.checks.map((check) => checkReport(check, tracker.book.bouts)),
    ventilationStage: ventilationStageOf(fold.ventilation, {
      rig: open.rig,
      guideline: guidelineOf(open.guideline),
    }),
    comparisons: [],
    warnings: [
      ...warningsOf(fold, skipped),
      ...fold.warnings,
      ...remarkWarnings(fold, [...all.values()].flat()),
    ],
  };
}

/** The bouts whose figures are pooled: those of the drill's own rig, since manikin and rhythm are never pooled. */
export function pooledBouts({ open, tracker }: DrillFold): Bout[] {
  return tracker.book.bouts.filter((bout) => rigOfStretch(open, bout) === open.rig);
}

/** Every complete cycle of a drill with its bout, in order; those that are left out too. */
export function boutRowsOf(fold: DrillFold): BoutRow[] {
  return fold.tracker.book.bouts.flatMap((bout, index) =>
    allRowsOf(fold, bout).map((row) => ({
      ...row,
      bout: index,
      isLeftOut: fold.remarks.leftOut.has(row.startUs),
    })),
  );
}

/** A bout's complete cycles that count. */
export function rowsOf(fold: DrillFold, bout: Bout): CycleRow[] {
  return runsOf(fold, bout).flat();
}

/** The same as runs of neighbours, for figures of cycles beside each other: no run reaches over one that is left out. */
export function runsOf(fold: DrillFold, bout: Bout): CycleRow[][] {
  return runsWithout(allRowsOf(fold, bout), fold.remarks.leftOut);
}

function allRowsOf(fold: DrillFold, bout: Bout): CycleRow[] {
  return fold.tracker.book.rows.slice(bout.fromRow, Math.min(bout.toRow, fold.tracker.book.rows.size));
}

/** The same bouts are asked for several times (a drill of one bout: four): their figures are worked out once. */
function figuresOnce(
  work: (bouts: readonly Bout[]) => ReportFigures,
): (bouts: readonly Bout[]) => ReportFigures {
  const known = new Map<string, ReportFigures>();
  return (bouts) => {
    const key = keyOf(bouts);
    const figures = known.get(key) ?? work(bouts);
    known.set(key, figures);
    return figures;
  };
}

/** Tells sets of bouts apart by their rows; a bout without a row can begin where the next does. */
export function keyOf(bouts: readonly Bout[]): string {
  return bouts.map(({ fromRow, toRow }) => `${fromRow}-${toRow}`).join();
}

function boutReport(
  bout: Bout,
  rig: Rig,
  figures: ReportFigures,
  rows: readonly CycleRow[],
): Omit<BoutReport, 'ticks'> {
  return {
    startMs: toMs(bout.startUs),
    endMs: toMs(endOf(bout)),
    roles: bout.roles,
    technique: bout.technique,
    stance: bout.stance,
    rig,
    idealCycleMs: toMs(bout.idealUs),
    slowed: isSlowed(bout, rows),
    ...figures,
    paceChangePctPerMin: paceChangeOf(rows),
  };
}

/** Was a cycle of it run at a slower tempo than the guideline's? Such a bout stands in no headline. */
export function isSlowed(bout: Bout, rows: readonly CycleRow[]): boolean {
  return bout.idealUs > NORMAL_CYCLE_US || rows.some((row) => row.idealUs > NORMAL_CYCLE_US);
}

/** T at the guideline's tempo, 2 s: see pattern.ts. */
const NORMAL_CYCLE_US = toUs(CYCLE_MS);

/** A bout that the finish or the journal's end ended lasts to its last release. */
function endOf(bout: Bout): Us {
  const lastUs = bout.lastCompression.offUs;
  return bout.endUs ?? Math.max(lastUs, bout.lastBreath?.offUs ?? lastUs);
}

function signedFor(fold: DrillFold, person: Person): Signature | null {
  const line = signatureOf(fold, person);
  if (line === null) return null;
  const { signedAt, by, standard, decision } = line;
  return { signedAt, by, standard, decision };
}

/** The time in bouts, and the rates over it. */
export function attemptOf(fold: DrillFold): Attempt {
  const { tracker, remarks } = fold;
  const without = shareOf(
    tracker.book.bouts.flatMap((bout) => (remarks.leftOut.size === 0 ? [] : allRowsOf(fold, bout))),
    remarks.leftOut,
  );
  let us = 0;
  for (const bout of tracker.book.bouts) us += endOf(bout) - bout.startUs;
  us -= without.us;
  const perMin = (count: number) =>
    figure(
      us === 0 ? null : (count * 60_000_000) / us,
      tracker.book.bouts.length === 0 ? 'no bout' : 'no time passed',
    );
  return {
    ms: toMs(us),
    compressionsPerMin: perMin(tracker.book.scored.compressions - without.compressions),
    breathsPerMin: perMin(tracker.book.scored.breaths - without.breaths),
  };
}

function warningsOf(
  fold: DrillFold,
  skipped: { lines: number; fields: number; tornBytes: number } | undefined,
): string[] {
  const warnings: string[] = [];
  if (!fold.hasBegun) warnings.push('no begin call: nothing was scored');
  if (!fold.isClosed) warnings.push('no close line: the drill was left open, or is going on');
  if (skipped === undefined) return warnings;
  if (skipped.tornBytes > 0) warnings.push('the last line was torn and was passed over');
  if (skipped.lines > 0)
    warnings.push(`${skipped.lines} lines of a kind this version does not know were skipped`);
  if (skipped.fields > 0) warnings.push(`${skipped.fields} fields this version does not know were skipped`);
  return warnings;
}
