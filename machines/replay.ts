import { DrillFold } from './drill-fold.ts';
import type { OpenLine } from './journal.ts';
import type { Journal, NumberedLine } from './journal-reader.ts';
import { type DrillReport, reportOf } from './scoring/report.ts';
import { withoutUndone } from './undo.ts';

/** Folds a whole journal to its end. */
export function replay(open: OpenLine, lines: readonly NumberedLine[]): DrillFold {
  const fold = new DrillFold(open);
  for (const line of withoutUndone(lines)) fold.take(line);
  fold.end();
  return fold;
}

/** The report of a journal that was read. */
export function scoreJournal(journal: Journal): DrillReport {
  return reportOf(replay(journal.open, journal.lines), journal.skipped);
}
