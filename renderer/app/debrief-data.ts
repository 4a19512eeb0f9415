import type { DrillText } from '../../electron/contract.ts';
import type { OpenLine } from '../../machines/journal.ts';
import { replay } from '../../machines/replay.ts';
import { type Advice, adviceOf } from '../../machines/scoring/advice.ts';
import {
  type BoutRow,
  boutRowsOf,
  type DrillReport,
  hasTwoTechniques,
  reportOf,
} from '../../machines/scoring/report.ts';
import { withPlusMinus } from '../../machines/scoring/report-plus-minus.ts';
import { type Drawing, drawSheet } from '../../machines/sheet-drawing.ts';
import { type DrillEvidence, evidenceOf } from '../../machines/standard/evidence.ts';

/** What the Debrief shows of a journal that was read. */
export type DebriefData = {
  fileName: string;
  open: OpenLine;
  report: DrillReport;
  advice: Advice;
  /** What of it counts for a course's standard. */
  evidence: DrillEvidence;
  rows: readonly BoutRow[];
  drawing: Drawing;
  hasTwoTechniques: boolean;
};

export function debriefOf({ fileName, open, lines }: DrillText): DebriefData {
  const fold = replay(open, lines);
  const report = withPlusMinus(reportOf(fold), fold);
  const rows = boutRowsOf(fold);
  return {
    fileName,
    open,
    report,
    advice: adviceOf(report, rows, fold),
    evidence: evidenceOf(fold),
    rows,
    drawing: drawSheet({ report, rows, tolerance: open.tolerance }),
    hasTwoTechniques: hasTwoTechniques(report),
  };
}
