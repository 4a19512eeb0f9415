import { DrillFold } from './drill-fold.ts';
import type { OpenLine } from './journal.ts';
import type { Journal, NumberedLine } from './journal-reader.ts';
import { type Advice, adviceOf } from './scoring/advice.ts';
import { type BoutRow, boutRowsOf, type DrillReport, reportOf } from './scoring/report.ts';
import { withPlusMinus } from './scoring/report-plus-minus.ts';
import { withoutUndone } from './undo.ts';

/** Folds a whole journal to its end. */
export function replay(open: OpenLine, lines: readonly NumberedLine[]): DrillFold {
  const fold = new DrillFold(open);
  for (const line of withoutUndone(lines)) fold.take(line);
  fold.end();
  return fold;
}

/** A journal's report, the rows it was made from, and the advice from both. */
export type ScoredJournal = { report: DrillReport; rows: readonly BoutRow[]; advice: Advice };

/** Scores a journal that was read, with ± beside its figures. */
export function scoreJournal(journal: Journal): ScoredJournal {
  const fold = replay(journal.open, journal.lines);
  const report = withPlusMinus(reportOf(fold, journal.skipped), fold);
  const rows = boutRowsOf(fold);
  return { report, rows, advice: adviceOf(report, rows, fold) };
}
