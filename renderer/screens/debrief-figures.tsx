import { type ReactElement, useEffect, useRef } from 'react';
import { type Ms, toMs } from '../../machines/units.ts';
import { adviceSentences } from '../../machines/words/advice-words.ts';
import { CAUTIONS } from '../../machines/words/english.ts';
import { headlineOf } from '../../machines/words/headline.ts';
import { rowFigures, rowTitle } from '../../machines/words/row-words.ts';
import { DEBRIEF_WORDS } from '../../machines/words/screen-debrief.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { RowSheet } from '../sheet/row-sheet.tsx';
import { DebriefAdvice } from './debrief-advice.tsx';
import { SheetInWords } from './debrief-tables.tsx';

type DebriefFiguresProps = {
  data: DebriefData;
  /** A cycle, by its start, is left out of the figures or counts again. */
  onLeaveOut: (startMs: Ms, isLeftOut: boolean) => void;
};

/** The headline in a sentence, what to try, the sheet. */
export function DebriefFigures({ data, onLeaveOut }: DebriefFiguresProps): ReactElement {
  const { report, rows, open, hasTwoTechniques } = data;
  const keptOrder = adviceSentences(data.advice, open.people).headline;
  const headline = useRef<HTMLParagraphElement>(null);
  // The figures have just taken the place of the button that had the focus.
  useEffect(() => headline.current?.focus(), []);
  return (
    <>
      <p className="headline" tabIndex={-1} ref={headline}>
        {headlineOf(report, rows)}
        {keptOrder === null ? null : ` ${keptOrder.text}`}
      </p>
      {report.drill.isClosed ? null : <p className="problem">{DEBRIEF_WORDS.notFinished}</p>}
      {hasTwoTechniques ? <p className="caution">{CAUTIONS.technique}</p> : null}
      <DebriefAdvice data={data} />
      <section aria-labelledby="sheet-title">
        <h2 id="sheet-title">
          {DEBRIEF_WORDS.sheet} <span className="quiet">{DEBRIEF_WORDS.sheetNote}</span>
        </h2>
        {rows.length === 0 ? (
          <p>{DEBRIEF_WORDS.sheetNone}</p>
        ) : (
          <>
            <RowSheet
              drawing={data.drawing}
              label={`${DEBRIEF_WORDS.sheet}: ${headlineOf(report, rows)}`}
              titleOf={(index) => ofRow(data, index, (row) => rowTitle(row, index, open.tolerance), '')}
              figuresOf={(index) => ofRow(data, index, rowFigures, [])}
              isLeftOut={(index) => rows[index]?.isLeftOut === true}
              onLeaveOut={(index, isLeftOut) =>
                ofRow(data, index, (row) => onLeaveOut(toMs(row.startUs), isLeftOut), undefined)
              }
            />
            <SheetInWords rows={rows} tolerance={open.tolerance} />
          </>
        )}
      </section>
    </>
  );
}

function ofRow<T>(
  { rows }: DebriefData,
  index: number,
  say: (row: DebriefData['rows'][number]) => T,
  otherwise: T,
): T {
  const row = rows[index];
  return row === undefined ? otherwise : say(row);
}
