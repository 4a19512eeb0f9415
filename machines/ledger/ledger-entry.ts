import type { DrillFold } from '../drill-fold.ts';
import {
  type Guidance,
  type OpenLine,
  PERSONS,
  type Person,
  type Rig,
  type Roles,
  type Stance,
  type Technique,
} from '../journal.ts';
import type { Journal } from '../journal-reader.ts';
import { CYCLE_MS } from '../pattern.ts';
import { READY_MADE } from '../plans/ready-made.ts';
import { replay } from '../replay.ts';
import type { Bout } from '../scoring/bout.ts';
import { type CycleRow, isCoordinated } from '../scoring/cycle-row.ts';
import { numberOf } from '../scoring/figure.ts';
import { figuresOf } from '../scoring/figures.ts';
import { instrumentOf } from '../scoring/instrument.ts';
import { primaryPlusMinusOf } from '../scoring/plus-minus.ts';
import { attemptOf, isSlowed, pooledBouts, rowsOf, runsOf } from '../scoring/report.ts';
import { toUs } from '../units.ts';

export type Role = keyof Roles;
export const ROLES = ['compressor', 'ventilator'] as const satisfies readonly Role[];

/** A figure and its ± (95 %), in the figure's unit. Null: not measured, or too little for a ±. */
export type KeptFigure = { value: number | null; plusMinus: number | null };
/** What a pair did while a person held a role: cycles without a count, at the usual tempo, on the drill's own rig, and no others. */
export type RoleEntry = {
  cycles: number;
  coordinated: number;
  /** 0 to 1. */
  coordinatedShare: KeptFigure;
  cycleJitterMs: KeptFigure;
  /** Ideal 1. */
  breathLagRatio: KeptFigure;
};

/** What the Ledger keeps of a drill: all of it worked out from the journal, at any time again. */
export type LedgerEntry = {
  drillId: string;
  fileName: string;
  /** Wall clock at the drill's 0, ISO 8601 in UTC. */
  openedAt: string;
  names: Record<Person, string>;
  rig: Rig;
  /** The plan's name; null: none. */
  plan: string | null;
  /** Those of the bouts, in order; without a bout, what the drill was opened with. */
  techniques: readonly Technique[];
  stances: readonly Stance[];
  /** Those of the cycles, in order; without a cycle, what the drill was opened with. */
  guidances: readonly Guidance[];
  /** In bouts, in seconds. */
  boutSeconds: number;
  isClosed: boolean;
  cycles: { total: number; coordinated: number };
  /** A bout of it was at a slower tempo. */
  isSlowed: boolean;
  /** The unled first minute before any teaching: the ready-made plan "Cold minute", by its name. */
  isCold: boolean;
  /** Null where the person held the role in no unled cycle at the usual tempo. */
  people: Record<Person, Record<Role, RoleEntry | null>>;
  title: string | null;
  isArchived: boolean;
};

/** The entry of a journal that was read. */
export function ledgerEntryOf(journal: Journal, fileName: string): LedgerEntry {
  const { open } = journal;
  const fold = replay(open, journal.lines);
  const { bouts } = fold.tracker.book;
  const isCold = open.plan?.name === READY_MADE['cold-minute'].name;
  const rows = bouts.flatMap((bout) => rowsOf(fold, bout));
  const pooled = pooledBouts(fold).flatMap((bout) => rowsOf(fold, bout));
  const plan = open.plan?.name ?? null;
  return {
    drillId: open.id,
    fileName,
    openedAt: open.openedAt,
    names: { A: open.people.A, B: open.people.B },
    rig: open.rig,
    plan,
    techniques: someOr(
      bouts.map(({ technique }) => technique),
      open.technique,
    ),
    stances: someOr(
      bouts.map(({ stance }) => stance),
      open.stance,
    ),
    guidances: someOr(
      rows.map(({ guidance }) => guidance),
      open.guidance,
    ),
    boutSeconds: attemptOf(fold).ms / 1000,
    isClosed: journal.isClosed,
    cycles: {
      total: pooled.length,
      coordinated: pooled.filter((row) => isCoordinated(row, open.tolerance)).length,
    },
    isSlowed: bouts.some((bout) => isSlowed(bout, rowsOf(fold, bout))),
    isCold,
    people: peopleOf(fold, isCold),
    title: open.filed?.title ?? null,
    isArchived: open.filed?.archived ?? false,
  };
}

/** The entry of a drill that runs: who and when, and nothing measured yet. */
export function runningEntryOf(open: OpenLine, fileName: string): LedgerEntry {
  const skipped = { lines: 0, fields: 0, tornBytes: 0 };
  return ledgerEntryOf({ open, lines: [], isClosed: false, skipped }, fileName);
}

const USUAL_CYCLE_US = toUs(CYCLE_MS);
/** The first minute is cold, and what comes behind it is not: there may have been teaching. */
const COLD_US = toUs(60_000);
/** Whatever the drill's own was: a trend over two tolerances would show the change from one to the other. */
const TREND_TOLERANCE = 'standard';

/** What one person compressed the other ventilated: each set of bouts is worked out once. */
function peopleOf(fold: DrillFold, isCold: boolean): LedgerEntry['people'] {
  const pooled = pooledBouts(fold);
  const compressedBy = (person: Person) =>
    roleEntryOf(
      fold,
      pooled.filter(({ roles }) => roles.compressor === person),
      isCold,
    );
  const [byA, byB] = [compressedBy('A'), compressedBy('B')];
  return { A: { compressor: byA, ventilator: byB }, B: { compressor: byB, ventilator: byA } };
}

function roleEntryOf(fold: DrillFold, bouts: readonly Bout[], isCold: boolean): RoleEntry | null {
  const tolerance = TREND_TOLERANCE;
  const coldEndUs = (fold.tracker.book.bouts[0]?.startUs ?? 0) + COLD_US;
  const isWanted = (row: CycleRow) => isOwnWork(row) && (!isCold || row.startUs < coldEndUs);
  const runs = bouts.flatMap((bout) => runsOf(fold, bout).flatMap((run) => stretchesOf(run, isWanted)));
  const rows = runs.flat();
  if (rows.length === 0) return null;
  const figures = figuresOf(runs, tolerance);
  const instrument = instrumentOf(
    fold.open,
    bouts.map((bout) => bout.roles.compressor),
  );
  const errors = primaryPlusMinusOf(runs, tolerance, instrument);
  const kept = (value: number | null, error: number | null): KeptFigure => ({ value, plusMinus: error });
  return {
    cycles: rows.length,
    coordinated: rows.filter((row) => isCoordinated(row, tolerance)).length,
    coordinatedShare: kept(numberOf(figures.coordinatedShare), numberOf(errors.coordinatedShare)),
    cycleJitterMs: kept(numberOf(figures.cycleJitterMs), numberOf(errors.cycleJitterMs)),
    breathLagRatio: kept(numberOf(figures.breathLagRatio.mean), numberOf(errors.breathLagRatio)),
  };
}

/** No count is heard in it, and it is not slowed. */
function isOwnWork({ guidance, guidanceChanged, idealUs }: CycleRow): boolean {
  return guidance === 'unled' && !guidanceChanged && idealUs <= USUAL_CYCLE_US;
}

/** Neighbours among a run's rows that are wanted, a list a stretch: jitter never crosses a gap. */
function stretchesOf(rows: readonly CycleRow[], isWanted: (row: CycleRow) => boolean): CycleRow[][] {
  const runs: CycleRow[][] = [];
  let run: CycleRow[] = [];
  for (const row of rows) {
    if (isWanted(row)) {
      if (run.length === 0) runs.push(run);
      run.push(row);
    } else run = [];
  }
  return runs;
}

function someOr<T>(found: readonly T[], otherwise: T): T[] {
  return found.length === 0 ? [otherwise] : [...new Set(found)];
}

/** Which of the two has the name; null: neither. */
export function personIn(
  { names }: Pick<LedgerEntry, 'names'>,
  isThem: (name: string) => boolean,
): Person | null {
  return PERSONS.find((person) => isThem(names[person])) ?? null;
}
