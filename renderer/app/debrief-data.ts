import type { DrillText } from '../../electron/contract.ts';
import type { OpenLine } from '../../machines/journal.ts';
import { replay } from '../../machines/replay.ts';
import { type BoutRow, boutRowsOf, type DrillReport, reportOf } from '../../machines/scoring/report.ts';
import { type Drawing, drawSheet } from '../../machines/sheet-drawing.ts';
import { type Ms, toMs } from '../../machines/units.ts';

/** What the Debrief shows of a journal that was read. */
export type DebriefData = {
  fileName: string;
  open: OpenLine;
  report: DrillReport;
  rows: readonly BoutRow[];
  /** T at each bout's start. */
  boutCycleMs: readonly Ms[];
  drawing: Drawing;
  hasTwoTechniques: boolean;
};

export function debriefOf({ fileName, open, lines }: DrillText): DebriefData {
  const fold = replay(open, lines);
  const report = reportOf(fold);
  const rows = boutRowsOf(fold);
  return {
    fileName,
    open,
    report,
    rows,
    boutCycleMs: report.bouts.map((_, index) => {
      const first = rows.find((row) => row.bout === index);
      return first === undefined ? open.cycleMs : toMs(first.idealUs);
    }),
    drawing: drawSheet({ report, rows, tolerance: open.tolerance }),
    hasTwoTechniques: new Set(report.bouts.map((bout) => bout.technique)).size > 1,
  };
}
