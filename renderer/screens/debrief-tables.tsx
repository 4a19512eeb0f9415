import type { ReactElement } from 'react';
import type { Tolerance } from '../../machines/journal.ts';
import { deadTimeOf } from '../../machines/scoring/dead-time.ts';
import type { BoutRow, DrillSummary } from '../../machines/scoring/report.ts';
import { toMs } from '../../machines/units.ts';
import { DEAD_TIME_WORDS, deadTimeLines } from '../../machines/words/dead-time-words.ts';
import { COUNT_TABLE_WORDS, countTable } from '../../machines/words/figure-table.ts';
import { rowHappened } from '../../machines/words/row-words.ts';
import { attemptTime, DEBRIEF_WORDS, rateLines, rowStart } from '../../machines/words/screen-debrief.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { Folded } from '../components/folded.tsx';
import { PlainTable } from '../components/plain-table.tsx';

/** Where there were no compressions, and what that makes of the rates. */
export function DeadTime({ data }: { data: DebriefData }): ReactElement {
  const { report, rows } = data;
  const { kind, goal, count, total, longest } = DEAD_TIME_WORDS;
  const { figure, inCycles, attempt, ideal } = DEBRIEF_WORDS;
  return (
    <Folded title={DEAD_TIME_WORDS.title}>
      <PlainTable
        columns={[kind, goal, count, total, longest]}
        rows={deadTimeLines(deadTimeOf(report, rows)).map((line) => ({
          head: line.kind,
          cells: [{ quiet: `${line.goal} (${line.source})` }, line.count, line.total, line.longest],
        }))}
      />
      <PlainTable
        caption={DEBRIEF_WORDS.rates}
        columns={[figure, inCycles, attempt, ideal]}
        rows={rateLines(report.drill).map((line) => ({
          head: line.label,
          cells: [line.inCycles, line.attempt, { quiet: line.ideal }],
        }))}
      />
      <p className="note">{DEBRIEF_WORDS.ratesNote(attemptTime(report.drill.attempt))}</p>
    </Folded>
  );
}

/** The pair with the count beside the pair without it; nothing where the drill has only one of the two. */
export function CountSurvival({ drill }: { drill: DrillSummary }): ReactElement | null {
  const lines = countTable(drill.count);
  if (lines === null) return null;
  const { title, figure, withCount, withoutCount, note } = COUNT_TABLE_WORDS;
  return (
    <Folded title={title}>
      <PlainTable
        columns={[figure, withCount, withoutCount]}
        rows={lines.map((line) => ({ head: line.label, cells: [line.withCount, line.withoutCount] }))}
      />
      <p className="note">{note}</p>
    </Folded>
  );
}

type SheetInWordsProps = { rows: readonly BoutRow[]; tolerance: Tolerance };

/** The same rows as the drawing's, for those who do not see it. */
export function SheetInWords({ rows, tolerance }: SheetInWordsProps): ReactElement {
  const { cycle, starts, happened } = DEBRIEF_WORDS;
  return (
    <Folded title={DEBRIEF_WORDS.sheetRows}>
      <PlainTable
        columns={[cycle, starts, happened]}
        rows={rows.map((row, index) => ({
          head: String(index + 1),
          cells: [rowStart(toMs(row.startUs)), rowHappened(row, tolerance)],
        }))}
      />
    </Folded>
  );
}
