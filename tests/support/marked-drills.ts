import type { BodyLine, MarkLine } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { replay, type ScoredJournal } from '../../machines/replay.ts';
import { adviceOf } from '../../machines/scoring/advice.ts';
import { type BoutRow, boutRowsOf, reportOf } from '../../machines/scoring/report.ts';
import { withPlusMinus } from '../../machines/scoring/report-plus-minus.ts';
import type { AnyJournal } from './arbitrary-journal.ts';
import { JournalBuilder } from './journal-builder.ts';

export const score = ({ open, lines }: Pick<AnyJournal, 'open' | 'lines'>): ScoredJournal => {
  const fold = replay(open, lines);
  const [report, rows] = [withPlusMinus(reportOf(fold), fold), boutRowsOf(fold)];
  return { report, rows, advice: adviceOf(report, rows, fold) };
};
export const scoreOf = (builder: JournalBuilder) => score({ open: builder.open, lines: builder.lines });
export const markOf = (row: number, missed = true, at = 90_000): MarkLine => ({
  kind: 'mark',
  at,
  row,
  missed,
});
export const startMs = ({ startUs }: BoutRow) => startUs / 1000;

/** Lines at the end of a journal, at its last time, as the host adds them, or later. */
export function withRemarks(
  { open, lines }: AnyJournal,
  remarks: readonly BodyLine[],
  laterMs = 0,
): AnyJournal {
  const last = lines.findLast(({ line }) => line.kind !== 'unknown')?.line;
  const at = (last?.at ?? 0) + laterMs;
  const added = remarks.map(
    (line, index): NumberedLine => ({ number: lines.length + 2 + index, line: { ...line, at } as BodyLine }),
  );
  return { open, lines: [...lines, ...added] };
}

/** A pair of eight cycles, 2.0 s but the fourth, in which a breath did not reach the switch: six compressions in 4 s. */
export function eightCycles(): JournalBuilder {
  const journal = new JournalBuilder().call(0, 'begin').ideal(1000, 3);
  journal.cycle([7000, 7500, 8000], null).cycle([9000, 9500, 10_000], 10_500);
  return journal.ideal(11_000, 5).call(22_000, 'finish').line({ kind: 'close', at: 90_000 });
}
