import type { Tolerance } from '../journal.ts';
import { mayBePraised } from '../ticks.ts';
import { exceedsLimits, type ShareEvidence, shareEvidence } from './advice-evidence.ts';
import { FEWEST_CYCLES, PAIR_LIMITS, type PairRuleId, PRAISE_LIMITS } from './advice-rules.ts';
import { type CycleRow, exactTiming, isCoordinated } from './cycle-row.ts';
import { numberOf } from './figure.ts';
import type { HandoverReport } from './handover-figures.ts';
import type { DrillReport } from './report.ts';

/** A row to show: its bout, its place in the drill's list of rows, and when it starts, ms. */
export type RowRef = { bout: number; row: number; startMs: number };
/** A handover of the report, by its place there. */
export type HandoverEvidence = { kind: 'handover'; handover: number; report: HandoverReport };
/** The share of cycles in order with the count, and without it. */
export type OrderEvidence = { kind: 'order'; withCount: ShareEvidence; withoutCount: ShareEvidence };
export type PairItem =
  | {
      rule: Exclude<PairRuleId, 'order-lost' | 'too-few-compressions'>;
      rows: readonly RowRef[];
      evidence: HandoverEvidence;
    }
  | { rule: 'order-lost'; rows: readonly RowRef[]; evidence: OrderEvidence }
  | { rule: 'too-few-compressions'; rows: readonly RowRef[]; evidence: ShareEvidence };
export type PairPraise =
  | { rule: 'kept-order'; rows: readonly RowRef[]; evidence: ShareEvidence }
  | { rule: 'handover-good'; rows: readonly RowRef[]; evidence: HandoverEvidence };

/** A row with where it stands, and whether it has the pair's cause. */
export type PairRow = RowRef & { source: CycleRow; isTooFew: boolean };
export type PairInput = {
  report: DrillReport;
  rows: readonly PairRow[];
  /** Cycles at the usual tempo with the count all through, and with none of it. */
  withCount: ReadonlySet<CycleRow>;
  withoutCount: ReadonlySet<CycleRow>;
};

/** The first rule of the pair that holds, or null. */
export function pairAdvice({ report, rows, withCount, withoutCount }: PairInput): PairItem | null {
  const long = longestHandover(report);
  if (long !== null) return { rule: 'handover-long', rows: rowsAfter(long, report, rows), evidence: long };
  const lost = report.handovers.findIndex(({ outcome }) => outcome === 'never taken up');
  const lostReport = report.handovers[lost];
  if (lostReport !== undefined)
    return {
      rule: 'handover-not-taken-up',
      rows: [],
      evidence: { kind: 'handover', handover: lost, report: lostReport },
    };
  const order = orderLost(rows, withCount, withoutCount);
  if (order !== null) return { rule: 'order-lost', rows: order.rows, evidence: order.evidence };
  const tooFew = rows.filter(({ isTooFew }) => isTooFew);
  const share = rows.length < FEWEST_CYCLES ? null : shareEvidence(tooFew.length, rows.length);
  if (share === null || !exceedsLimits(share, PAIR_LIMITS.tooFew)) return null;
  return { rule: 'too-few-compressions', rows: tooFew.map(refOf), evidence: share };
}

/** How far the order was kept in cycles without the count, if the exact interval of that share lies above four in five; else null. */
export function keptOrder(
  rows: readonly PairRow[],
  withoutCount: ReadonlySet<CycleRow>,
): ShareEvidence | null {
  const share = orderOf(rows.filter(({ source }) => withoutCount.has(source)));
  return share === null || share.of < FEWEST_CYCLES || share.low <= PRAISE_LIMITS.share ? null : share;
}

/** What the pair is praised for together: on a manikin rig alone, and where every bout may be praised. */
export function pairPraise({ report, rows, withCount, withoutCount }: PairInput): PairPraise | null {
  const { bouts, handovers, drill } = report;
  if (drill.rig === 'rhythm' || !bouts.every(({ ticks, rig }) => rig === 'manikin' && mayBePraised(ticks)))
    return null;
  const kept = withCount.size === 0 ? null : keptOrder(rows, withoutCount);
  const silent = rows.filter(({ source }) => withoutCount.has(source));
  const sources = silent.map(({ source }) => source);
  if (kept !== null && isHalfCoordinated(sources, drill.tolerance))
    return { rule: 'kept-order', rows: silent.map(refOf), evidence: kept };
  if (handovers.length === 0 || !handovers.every(isGood)) return null;
  const last = handovers.length - 1;
  const latest = handovers[last];
  if (latest === undefined) return null;
  const evidence: HandoverEvidence = { kind: 'handover', handover: last, report: latest };
  return { rule: 'handover-good', rows: rowsAfter(evidence, report, rows), evidence };
}

/** Were half of the cycles coordinated, or more? Praise for the rest would stand against the headline. */
export function isHalfCoordinated(rows: readonly CycleRow[], tolerance: Tolerance): boolean {
  const coordinated = rows.filter((row) => isCoordinated(row, tolerance));
  return coordinated.length >= PRAISE_LIMITS.coordinated * rows.length;
}

function longestHandover({ handovers }: DrillReport): HandoverEvidence | null {
  const { pauseMs, breathGapMs } = PAIR_LIMITS.handover;
  let longest: { evidence: HandoverEvidence; lengthMs: number } | null = null;
  for (const [handover, report] of handovers.entries()) {
    const pause = numberOf(report.pauseMs) ?? 0;
    const breathGap = numberOf(report.breathGapMs) ?? 0;
    const lengthMs = Math.max(pause, breathGap - (breathGapMs - pauseMs));
    if ((pause < pauseMs && breathGap < breathGapMs) || (longest !== null && lengthMs <= longest.lengthMs))
      continue;
    longest = { evidence: { kind: 'handover', handover, report }, lengthMs };
  }
  return longest?.evidence ?? null;
}

function isGood({ outcome, pauseMs, firstCycleRight, after5 }: HandoverReport): boolean {
  const pause = numberOf(pauseMs);
  return (
    outcome === 'taken up' &&
    pause !== null &&
    pause <= PRAISE_LIMITS.handover.mostPauseMs &&
    firstCycleRight === true &&
    (numberOf(after5) ?? 0) >= PRAISE_LIMITS.handover.after5
  );
}

/** The first row of the bout that the handover led to. */
function rowsAfter({ report }: HandoverEvidence, { bouts }: DrillReport, rows: readonly PairRow[]): RowRef[] {
  const fresh = bouts.findLastIndex(({ startMs }) => startMs === report.firstNewMs);
  const first = rows.find(({ bout }) => bout === fresh);
  return first === undefined ? [] : [refOf(first)];
}

function orderLost(
  rows: readonly PairRow[],
  withCount: ReadonlySet<CycleRow>,
  withoutCount: ReadonlySet<CycleRow>,
): { rows: RowRef[]; evidence: OrderEvidence } | null {
  const silent = rows.filter(({ source }) => withoutCount.has(source));
  const led = orderOf(rows.filter(({ source }) => withCount.has(source)));
  const unled = orderOf(silent);
  if (led === null || unled === null || led.of < FEWEST_CYCLES || unled.of < FEWEST_CYCLES) return null;
  const isApart = led.low > unled.high;
  const difference = led.count / led.of - unled.count / unled.of;
  if (!isApart || difference < PAIR_LIMITS.orderLost.smallest) return null;
  return {
    rows: silent.filter(({ source }) => !isInOrder(source)).map(refOf),
    evidence: { kind: 'order', withCount: led, withoutCount: unled },
  };
}

function orderOf(rows: readonly PairRow[]): ShareEvidence | null {
  return shareEvidence(rows.filter(({ source }) => isInOrder(source)).length, rows.length);
}

/** Three compressions and a breath, without a clash. */
function isInOrder(row: CycleRow): boolean {
  return exactTiming(row) !== null && row.clash.count === 0;
}

export function refOf({ bout, row, startMs }: RowRef): RowRef {
  return { bout, row, startMs };
}
