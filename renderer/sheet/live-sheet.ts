import type { DrillDriver } from '../../machines/drill-driver.ts';
import { firstRightMsOf } from '../../machines/scoring/handover-figures.ts';
import type { BoutRow, DrillReport } from '../../machines/scoring/report.ts';
import { type Drawing, drawSheet } from '../../machines/sheet-drawing.ts';
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
    drawing: drawLatest(report, all.slice(-rowsShown), driver.open.tolerance),
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

/** Bouts before the first row shown are left out, with what lies between them. */
function drawLatest(
  report: DrillReport,
  rows: readonly BoutRow[],
  tolerance: DrillReport['drill']['tolerance'],
): Drawing | null {
  const first = rows[0]?.bout;
  if (first === undefined) return null;
  const startMs = report.bouts[first]?.startMs ?? 0;
  const isShown = ({ calledMs }: { calledMs: number }) => calledMs >= startMs;
  return drawSheet({
    report: {
      ...report,
      bouts: report.bouts.slice(first),
      handovers: report.handovers.filter(isShown),
      checks: report.checks.filter((check) => isShown(check) && typeof check.pauseMs === 'number'),
    },
    rows: rows.map((row) => ({ ...row, bout: row.bout - first })),
    tolerance,
  });
}
