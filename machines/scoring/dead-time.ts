import type { Ms } from '../units.ts';
import { toMs } from '../units.ts';
import { pausesOf } from './figures.ts';
import type { BoutRow, DrillReport } from './report.ts';

/** Stretches without compressions of one kind: how many, all of them together and the longest. Null: none was measured. */
export type DeadTimeOf = { count: number; totalMs: Ms; longestMs: Ms | null };

/**
 * Where the time without compressions went: pauses inside complete cycles, handovers (last old's release to first new) and
 * heart-rate checks. A check is never a fault. Rest, and what came before begin and after finish, are in none.
 */
export type DeadTime = { pauses: DeadTimeOf; handovers: DeadTimeOf; checks: DeadTimeOf };

export function deadTimeOf(report: DrillReport, rows: readonly BoutRow[]): DeadTime {
  const ofReports = (reports: readonly { pauseMs: DrillReport['checks'][number]['pauseMs'] }[]) =>
    sumUp(reports.flatMap(({ pauseMs }) => (typeof pauseMs === 'number' ? [pauseMs] : [])));
  return {
    pauses: sumUp(rows.flatMap((row) => (row.isLeftOut ? [] : pausesOf(row).map(toMs)))),
    handovers: ofReports(report.handovers),
    checks: ofReports(report.checks),
  };
}

function sumUp(lengthsMs: readonly Ms[]): DeadTimeOf {
  return {
    count: lengthsMs.length,
    totalMs: lengthsMs.reduce((sum, ms) => sum + ms, 0),
    longestMs: lengthsMs.length === 0 ? null : Math.max(...lengthsMs),
  };
}
