import { type ReactElement, useEffect, useRef } from 'react';
import { firstRightMsOf } from '../../machines/scoring/handover-figures.ts';
import { CAUTIONS, NOT_BY_SWITCH } from '../../machines/words/english.ts';
import { formatClock } from '../../machines/words/format.ts';
import { checkSentence, handoverWithSteps } from '../../machines/words/handover-sentence.ts';
import { headlineOf } from '../../machines/words/headline.ts';
import { PLUS_MINUS_NOTE, switchOffsetSentence } from '../../machines/words/plus-minus-words.ts';
import { DEBRIEF_WORDS } from '../../machines/words/screen-debrief.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { ScrollingSheet } from '../sheet/scrolling-sheet.tsx';
import { DebriefComparisons } from './debrief-comparisons.tsx';
import { DebriefDetails } from './debrief-details.tsx';
import { AttemptRates, CountSurvival, SheetInWords } from './debrief-tables.tsx';
import { DebriefTicks } from './debrief-ticks.tsx';
import { DebriefVentilation } from './debrief-ventilation.tsx';

type DebriefFiguresProps = { data: DebriefData; onLeave: () => void };

/** The headline in a sentence, the sheet, then everything else; details are folded. */
export function DebriefFigures({ data, onLeave }: DebriefFiguresProps): ReactElement {
  const { report, rows, drawing, fileName, hasTwoTechniques } = data;
  const headline = useRef<HTMLParagraphElement>(null);
  // The figures have just taken the place of the button that had the focus.
  useEffect(() => headline.current?.focus(), []);
  return (
    <>
      <p className="headline" tabIndex={-1} ref={headline}>
        {headlineOf(report, rows)}
      </p>
      {report.drill.isClosed ? null : <p className="problem">{DEBRIEF_WORDS.notFinished}</p>}
      {hasTwoTechniques ? <p className="caution">{CAUTIONS.technique}</p> : null}
      <section aria-labelledby="sheet-title">
        <h2 id="sheet-title">
          {DEBRIEF_WORDS.sheet} <span className="quiet">{DEBRIEF_WORDS.sheetNote}</span>
        </h2>
        {rows.length === 0 ? (
          <p>{DEBRIEF_WORDS.sheetNone}</p>
        ) : (
          <>
            <ScrollingSheet
              drawing={drawing}
              title={DEBRIEF_WORDS.sheet}
              label={`${DEBRIEF_WORDS.sheet}: ${headlineOf(report, rows)}`}
            />
            <SheetInWords rows={rows} tolerance={data.open.tolerance} />
          </>
        )}
      </section>
      <section aria-labelledby="handovers-title">
        <h2 id="handovers-title">{DEBRIEF_WORDS.handovers}</h2>
        <ul className="handovers">
          {handoversOf(data).map(({ calledMs, sentence }) => (
            <li key={`${calledMs} ${sentence}`}>
              <span className="quiet">{formatClock(calledMs)}</span> {sentence}
            </li>
          ))}
        </ul>
        {report.handovers.length + report.checks.length === 0 ? <p>{DEBRIEF_WORDS.noHandovers}</p> : null}
      </section>
      <DebriefVentilation stage={report.ventilationStage} guideline={report.drill.guideline} />
      <AttemptRates drill={report.drill} />
      <CountSurvival drill={report.drill} />
      <DebriefComparisons data={data} />
      <section aria-labelledby="not-measured-title">
        <h2 id="not-measured-title">{DEBRIEF_WORDS.notMeasured}</h2>
        <p>{DEBRIEF_WORDS.notMeasuredNote}</p>
        <ul className="not-measured">
          {NOT_BY_SWITCH.map((item) => (
            <li key={item}>
              {item}: <span className="quiet">{DEBRIEF_WORDS.notMeasuredValue}</span>
            </li>
          ))}
        </ul>
      </section>
      <DebriefTicks data={data} />
      <p className="note">
        {switchOffsetSentence(report.drill)} {PLUS_MINUS_NOTE}
      </p>
      <DebriefDetails data={data} />
      <p className="note">
        {DEBRIEF_WORDS.journal}: <code>{fileName}</code>
      </p>
      <button type="button" className="primary" onClick={onLeave}>
        {DEBRIEF_WORDS.done}
      </button>
    </>
  );
}

function handoversOf({ report, rows, open }: DebriefData): { calledMs: number; sentence: string }[] {
  return [
    ...report.handovers.map((handover) => ({
      calledMs: handover.calledMs,
      sentence: handoverWithSteps(handover, firstRightMsOf(handover, report.bouts, rows, open.tolerance)),
    })),
    ...report.checks.map((check) => ({ calledMs: check.calledMs, sentence: checkSentence(check) })),
  ].sort((one, other) => one.calledMs - other.calledMs);
}
