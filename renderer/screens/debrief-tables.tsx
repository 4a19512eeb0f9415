import type { ReactElement } from 'react';
import type { Tolerance } from '../../machines/journal.ts';
import { isCoordinated } from '../../machines/scoring/cycle-row.ts';
import { faultsOf } from '../../machines/scoring/faults.ts';
import type { BoutRow, DrillSummary } from '../../machines/scoring/report.ts';
import { toMs } from '../../machines/units.ts';
import { FAULT_WORDS, SWITCH_MISSED_IT } from '../../machines/words/english.ts';
import { COUNT_TABLE_WORDS, countTable } from '../../machines/words/figure-table.ts';
import { attemptTime, DEBRIEF_WORDS, rateLines, rowStart } from '../../machines/words/screen-debrief.ts';

/** Rates inside complete cycles beside those over all the time, so that dead time shows. */
export function AttemptRates({ drill }: { drill: DrillSummary }): ReactElement {
  return (
    <section aria-labelledby="rates-title">
      <h2 id="rates-title">{DEBRIEF_WORDS.rates}</h2>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">{DEBRIEF_WORDS.figure}</th>
            <th scope="col">{DEBRIEF_WORDS.inCycles}</th>
            <th scope="col">{DEBRIEF_WORDS.attempt}</th>
            <th scope="col">{DEBRIEF_WORDS.ideal}</th>
          </tr>
        </thead>
        <tbody>
          {rateLines(drill).map((line) => (
            <tr key={line.label}>
              <th scope="row">{line.label}</th>
              <td>{line.inCycles}</td>
              <td>{line.attempt}</td>
              <td className="quiet">{line.ideal}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="note">{DEBRIEF_WORDS.ratesNote(attemptTime(drill.attempt))}</p>
    </section>
  );
}

/** The pair with the count beside the pair without it; nothing where the drill has only one of the two. */
export function CountSurvival({ drill }: { drill: DrillSummary }): ReactElement | null {
  const lines = countTable(drill.count);
  if (lines === null) return null;
  return (
    <section aria-labelledby="count-title">
      <h2 id="count-title">{COUNT_TABLE_WORDS.title}</h2>
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
    </section>
  );
}

type SheetInWordsProps = { rows: readonly BoutRow[]; tolerance: Tolerance };

/** The same rows as the drawing's, for those who do not see it. */
export function SheetInWords({ rows, tolerance }: SheetInWordsProps): ReactElement {
  return (
    <details>
      <summary>{DEBRIEF_WORDS.sheetRows}</summary>
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
              <td>{rowWords(row, tolerance)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function rowWords(row: BoutRow, tolerance: Tolerance): string {
  if (row.isLeftOut) return SWITCH_MISSED_IT;
  const faults = faultsOf(row, tolerance).map((fault) => FAULT_WORDS[fault]);
  if (faults.length > 0) return faults.join(', ');
  return isCoordinated(row, tolerance) ? DEBRIEF_WORDS.inPlace : DEBRIEF_WORDS.notInPlace;
}
