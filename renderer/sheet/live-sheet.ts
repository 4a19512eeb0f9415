import type { DrillDriver } from '../../machines/drill-driver.ts';
import { firstRightMsOf } from '../../machines/scoring/handover-figures.ts';
import type { BoutRow, DrillReport } from '../../machines/scoring/report.ts';
import type { Drawing } from '../../machines/sheet-drawing.ts';
import { drawRows } from '../../machines/sheet-pages.ts';
import { handoverSteps } from '../../machines/words/handover-sentence.ts';

/** So many of the latest cycles are drawn on the Floor; fewer where the window is narrow. The Debrief has them all. */
export const LIVE_ROWS = { wide: 20, narrow: 8 } as const;
export type LiveSheet = {
  drawing: Drawing | null;
  cycles: number;
  /** The last handover that has ended, a line a step; null before one. */
  lastHandover: readonly string[] | null;
  warnings: readonly string[];
};

/** The sheet of a running drill: its latest cycles. A handover that is still open is not told as if it had ended. */
export function liveSheetOf(driver: DrillDriver, rowsShown: number): LiveSheet {
  const all = driver.rows();
  const report = withoutOpenHandover(driver.report(), driver.snapshot.matches({ handover: 'called' }));
  const last = report.handovers.at(-1);
  return {
    drawing: all.length === 0 ? null : drawLatest(report, all, rowsShown, driver.open.tolerance),
    cycles: all.length,
    lastHandover:
      last === undefined
        ? null
        : handoverSteps(last, firstRightMsOf(last, report.bouts, all, driver.open.tolerance)),
    warnings: report.warnings.filter((warning) => warning.startsWith('line ')),
  };
}

function withoutOpenHandover(report: DrillReport, isOpen: boolean): DrillReport {
  return isOpen ? { ...report, handovers: report.handovers.slice(0, -1) } : report;
}

/** Bouts before the first row shown are left out, with what lies between them; of a check that is going on nothing is said. */
function drawLatest(
  report: DrillReport,
  rows: readonly BoutRow[],
  rowsShown: number,
  tolerance: DrillReport['drill']['tolerance'],
): Drawing {
  const checks = report.checks.filter(({ pauseMs }) => typeof pauseMs === 'number');
  return drawRows(
    { report: { ...report, checks }, rows, tolerance },
    Math.max(0, rows.length - rowsShown),
    rows.length,
  );
}
