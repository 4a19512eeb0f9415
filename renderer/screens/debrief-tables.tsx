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

/** Where there were no compressions, and what that makes of the rates. */
export function DeadTime({ data }: { data: DebriefData }): ReactElement {
  const { report, rows } = data;
  return (
    <Folded title={DEAD_TIME_WORDS.title}>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">{DEAD_TIME_WORDS.kind}</th>
            <th scope="col">{DEAD_TIME_WORDS.goal}</th>
            <th scope="col">{DEAD_TIME_WORDS.count}</th>
            <th scope="col">{DEAD_TIME_WORDS.total}</th>
            <th scope="col">{DEAD_TIME_WORDS.longest}</th>
          </tr>
        </thead>
        <tbody>
          {deadTimeLines(deadTimeOf(report, rows)).map((line) => (
            <tr key={line.kind}>
              <th scope="row">{line.kind}</th>
              <td className="quiet">
                {line.goal} ({line.source})
              </td>
              <td>{line.count}</td>
              <td>{line.total}</td>
              <td>{line.longest}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <table className="figures">
        <caption>{DEBRIEF_WORDS.rates}</caption>
        <thead>
          <tr>
            <th scope="col">{DEBRIEF_WORDS.figure}</th>
            <th scope="col">{DEBRIEF_WORDS.inCycles}</th>
            <th scope="col">{DEBRIEF_WORDS.attempt}</th>
            <th scope="col">{DEBRIEF_WORDS.ideal}</th>
          </tr>
        </thead>
        <tbody>
          {rateLines(report.drill).map((line) => (
            <tr key={line.label}>
              <th scope="row">{line.label}</th>
              <td>{line.inCycles}</td>
              <td>{line.attempt}</td>
              <td className="quiet">{line.ideal}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="note">{DEBRIEF_WORDS.ratesNote(attemptTime(report.drill.attempt))}</p>
    </Folded>
  );
}

/** The pair with the count beside the pair without it; nothing where the drill has only one of the two. */
export function CountSurvival({ drill }: { drill: DrillSummary }): ReactElement | null {
  const lines = countTable(drill.count);
  if (lines === null) return null;
  return (
    <Folded title={COUNT_TABLE_WORDS.title}>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">{COUNT_TABLE_WORDS.figure}</th>
            <th scope="col">{COUNT_TABLE_WORDS.withCount}</th>
            <th scope="col">{COUNT_TABLE_WORDS.withoutCount}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.label}>
              <th scope="row">{line.label}</th>
              <td>{line.withCount}</td>
              <td>{line.withoutCount}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="note">{COUNT_TABLE_WORDS.note}</p>
    </Folded>
  );
}

type SheetInWordsProps = { rows: readonly BoutRow[]; tolerance: Tolerance };

/** The same rows as the drawing's, for those who do not see it. */
export function SheetInWords({ rows, tolerance }: SheetInWordsProps): ReactElement {
  return (
    <Folded title={DEBRIEF_WORDS.sheetRows}>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">{DEBRIEF_WORDS.cycle}</th>
            <th scope="col">{DEBRIEF_WORDS.starts}</th>
            <th scope="col">{DEBRIEF_WORDS.happened}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <tr key={row.startUs}>
              <th scope="row">{index + 1}</th>
              <td>{rowStart(toMs(row.startUs))}</td>
              <td>{rowHappened(row, tolerance)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Folded>
  );
}
