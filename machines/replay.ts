import { DrillFold } from './drill-fold.ts';
import type { OpenLine } from './journal.ts';
import type { Journal, NumberedLine } from './journal-reader.ts';
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

/** A journal's report, and the rows it was made from. */
export type ScoredJournal = { report: DrillReport; rows: readonly BoutRow[] };

/** Scores a journal that was read, with ± beside its figures. */
export function scoreJournal(journal: Journal): ScoredJournal {
  const fold = replay(journal.open, journal.lines);
  return { report: withPlusMinus(reportOf(fold, journal.skipped), fold), rows: boutRowsOf(fold) };
}
