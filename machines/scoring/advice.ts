import type { DrillFold } from '../drill-fold.ts';
import type { Person, Rig, Roles } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { mayBePraised } from '../ticks.ts';
import { toUs } from '../units.ts';
import { PERSONS } from '../vocabulary.ts';
import { CAUSES } from './advice-causes.ts';
import {
  exceedsLimits,
  isOff,
  type MeanEvidence,
  meanEvidence,
  type ShareEvidence,
  shareEvidence,
} from './advice-evidence.ts';
import {
  isHalfCoordinated,
  keptOrder,
  type PairItem,
  type PairPraise,
  pairAdvice,
  pairPraise,
  type RowRef,
  refOf,
} from './advice-pair.ts';
import {
  FEWEST_CYCLES,
  PERSON_RULES,
  type PersonRuleId,
  PRAISE_LIMITS,
  PRAISE_RULES,
  type PraiseRuleId,
} from './advice-rules.ts';
import { type TickAdvice, tickAdvice } from './advice-ticks.ts';
import { runsByCount } from './count-figures.ts';
import { exactTiming } from './cycle-row.ts';
import { numberOf } from './figure.ts';
import { instrumentOf } from './instrument.ts';
import { type JudgedRow, judgedRows } from './judged-rows.ts';
import type { BoutReport, BoutRow, DrillReport } from './report.ts';
import type { VentilationStageReport } from './ventilation-stage.ts';

/** A bout's change of pace in % a minute, with its interval, and what that comes to over the bout. */
export type PaceEvidence = {
  kind: 'pace change';
  value: number;
  low: number;
  high: number;
  overBoutPct: number;
};

/** The one thing for a person to try: which rule, in which role, and the rows that show it, in order. */
export type Item = {
  rule: PersonRuleId;
  role: keyof Roles;
  rows: readonly RowRef[];
  evidence: ShareEvidence | MeanEvidence | PaceEvidence;
};
export type Praise = {
  rule: PraiseRuleId;
  role: keyof Roles;
  rows: readonly RowRef[];
  evidence: ShareEvidence;
};

export type PersonAdvice = {
  toTry: Item | null;
  praise: Praise | null;
  /** Complete cycles in each role; with fewer than 12 in both, nothing is said. */
  cycles: Record<keyof Roles, number>;
  tooLittle: boolean;
  /** They compressed at a slower tempo alone, at which no pace is judged. */
  isPaceUnjudged: boolean;
};

/** One thing to try for each, and what comes before it. */
export type Advice = {
  rig: Rig;
  /** Comes before anything that switches say. */
  first: TickAdvice | null;
  forPerson: Record<Person, PersonAdvice>;
  pair: { toTry: PairItem | null; praise: PairPraise | null };
  /** The order in the cycles without the count, where there were some with it and it was kept; a fact beside the headline, no praise. */
  keptOrder: ShareEvidence | null;
  /** Complete cycles on the drill's own rig. */
  cycles: number;
  /** Nobody held a role for 12 cycles: there is nothing to be said of the timing yet. */
  tooLittle: boolean;
  /** The ventilation before compressions, where it was all there was: some breaths, and no compression. */
  ventilationAlone: VentilationStageReport | null;
};

/**
 * The advice of a drill that is over, from the table of rules: of those that hold for a person the first. `rows` are all of the drill's.
 * Stretches on another rig than the drill's own are left out, as in its figures.
 */
export function adviceOf(
  report: DrillReport,
  rows: readonly BoutRow[],
  { open, beats }: Pick<DrillFold, 'open' | 'beats'>,
): Advice {
  const { rig } = report.drill;
  const stage = report.ventilationStage;
  const judged = judgedRows(report, rows);
  const runs = runsByCount(
    report.bouts.map((_, bout) => judged.filter((row) => row.bout === bout).map(({ source }) => source)),
    beats,
  );
  const pair = {
    report,
    rows: judged.map((row) => ({ ...row, isTooFew: row.causes.some((cause) => CAUSES[cause] === 'pair') })),
    withCount: new Set(runs.withCount.flat()),
    withoutCount: new Set(runs.withoutCount.flat()),
  };
  const person = (id: Person) => personAdvice(id, { report, judged, open });
  const forPerson = { A: person('A'), B: person('B') };
  return {
    rig,
    first: tickAdvice(report),
    forPerson,
    pair: { toTry: pairAdvice(pair), praise: pairPraise(pair) },
    keptOrder: pair.withCount.size === 0 ? null : keptOrder(pair.rows, pair.withoutCount),
    cycles: judged.length,
    tooLittle: PERSONS.every((id) => forPerson[id].tooLittle),
    ventilationAlone: report.bouts.length === 0 && stage !== null && stage.breaths > 0 ? stage : null,
  };
}

type Input = { report: DrillReport; judged: readonly JudgedRow[]; open: DrillFold['open'] };

function personAdvice(person: Person, input: Input): PersonAdvice {
  const held = (role: keyof Roles) =>
    input.judged.filter(({ bout }) => input.report.bouts[bout]?.roles[role] === person);
  const rows = { compressor: held('compressor'), ventilator: held('ventilator') };
  const things = thingsOf(person, rows, input);
  return {
    toTry: things[0] ?? null,
    praise: praiseOf(person, rows, things, input.report),
    cycles: { compressor: rows.compressor.length, ventilator: rows.ventilator.length },
    tooLittle: rows.compressor.length < FEWEST_CYCLES && rows.ventilator.length < FEWEST_CYCLES,
    isPaceUnjudged:
      rows.compressor.length > 0 && rows.compressor.every(({ source }) => source.idealUs > toUs(CYCLE_MS)),
  };
}

type Held = Record<keyof Roles, readonly JudgedRow[]>;

/** Every rule that holds for a person, in the table's order. */
function thingsOf(person: Person, held: Held, input: Input): Item[] {
  return PERSON_RULES.flatMap((rule) => {
    const rows = held[rule.role];
    if (rows.length < FEWEST_CYCLES) return [];
    const found = findingOf(rule, person, rows, input);
    return found === null
      ? []
      : [{ rule: rule.id, role: rule.role, rows: found.rows.map(refOf), evidence: found.evidence }];
  });
}

type Finding = { rows: readonly JudgedRow[]; evidence: Item['evidence'] };

function findingOf(
  rule: (typeof PERSON_RULES)[number],
  person: Person,
  rows: readonly JudgedRow[],
  { report, open }: Input,
): Finding | null {
  switch (rule.by) {
    case 'share': {
      const mine = rows.filter(({ causes }) => causes.includes(rule.cause));
      const evidence = shareEvidence(mine.length, rows.length);
      return evidence !== null && exceedsLimits(evidence, rule.limits) ? { rows: mine, evidence } : null;
    }
    case 'mean': {
      const compressors = rows.flatMap(({ bout }) => report.bouts[bout]?.roles.compressor ?? []);
      const whole = rows.filter(({ isOfTwoTriplets }) => !isOfTwoTriplets);
      const sources = whole.map(({ source }) => source);
      const evidence = meanEvidence(sources, rule, instrumentOf(open, compressors), FEWEST_CYCLES);
      const off = whole.filter(({ source }) => isOff(source, rule));
      // But of pace the words say "mostly": a few far off can move a mean by themselves, and those are told by their number.
      const isMostly = rule.of === 'interval' || (evidence !== null && 2 * off.length > evidence.cycles);
      return evidence === null || !isMostly ? null : { rows: off, evidence };
    }
    case 'pace change': {
      const found = steepestChange(person, report, rule.smallestPct);
      return found === null
        ? null
        : { rows: rows.filter(({ bout }) => bout === found.bout), evidence: found.evidence };
    }
  }
}

/** The bout of theirs whose pace changed most, if the interval excludes 0 and it comes to enough; a slowed one is not judged. */
function steepestChange(
  person: Person,
  { bouts, drill }: DrillReport,
  smallestPct: number,
): { bout: number; evidence: PaceEvidence } | null {
  let steepest: { bout: number; evidence: PaceEvidence } | null = null;
  for (const [bout, one] of bouts.entries()) {
    if (one.roles.compressor !== person || one.slowed || one.rig !== drill.rig) continue;
    const evidence = paceEvidence(one);
    if (evidence === null || Math.abs(evidence.overBoutPct) < smallestPct) continue;
    if (steepest === null || Math.abs(evidence.overBoutPct) > Math.abs(steepest.evidence.overBoutPct))
      steepest = { bout, evidence };
  }
  return steepest;
}

function paceEvidence({ paceChangePctPerMin, startMs, endMs }: BoutReport): PaceEvidence | null {
  const value = numberOf(paceChangePctPerMin.value);
  const low = numberOf(paceChangePctPerMin.low);
  const high = numberOf(paceChangePctPerMin.high);
  if (value === null || low === null || high === null || low * high <= 0) return null;
  return { kind: 'pace change', value, low, high, overBoutPct: (value * (endMs - startMs)) / 60_000 };
}

/**
 * The first praise that was earned, in bouts that may all be praised. On a rhythm rig none is: what praise needs to be seen cannot be seen there, of one
 * person no more than of the pair.
 */
function praiseOf(person: Person, held: Held, things: readonly Item[], report: DrillReport): Praise | null {
  for (const { id, role, notWith } of PRAISE_RULES) {
    const rows = held[role];
    const isSeen = report.bouts.every(
      ({ roles, rig, ticks }) => roles[role] !== person || (rig === 'manikin' && mayBePraised(ticks)),
    );
    const isAgainst = things.some(({ rule }) => (notWith as readonly PersonRuleId[]).includes(rule));
    if (!isSeen || isAgainst || rows.length < FEWEST_CYCLES) continue;
    const sources = rows.map(({ source }) => source);
    if (!isHalfCoordinated(sources, report.drill.tolerance)) continue;
    // What the other did may leave no three compressions or no breath to praise, through no fault of theirs.
    const mine = rows.filter(
      ({ source, causes }) =>
        exactTiming(source) !== null &&
        causes.every((cause) => CAUSES[cause] !== role && CAUSES[cause] !== 'pair'),
    );
    const evidence = shareEvidence(mine.length, rows.length);
    if (evidence !== null && evidence.low > PRAISE_LIMITS.share)
      return { rule: id, role, rows: mine.map(refOf), evidence };
  }
  return null;
}
