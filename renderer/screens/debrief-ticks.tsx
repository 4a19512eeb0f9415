import type { ReactElement } from 'react';
import { NOT_BY_SWITCH } from '../../machines/words/english.ts';
import { boutTitle, DEBRIEF_WORDS } from '../../machines/words/screen-debrief.ts';
import { praiseNote, TICKS_WORDS, tickSentences } from '../../machines/words/tick-words.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { Folded } from '../components/folded.tsx';

/** What no switch can know: what was ticked of it bout by bout; on a rhythm rig, that nothing was. */
export function DebriefTicks({ data }: { data: DebriefData }): ReactElement {
  const { report, open } = data;
  return (
    <Folded title={open.rig === 'rhythm' ? DEBRIEF_WORDS.notMeasured : TICKS_WORDS.report}>
      {open.rig === 'rhythm'
        ? null
        : report.bouts.map((bout, index) => (
            <div key={bout.startMs}>
              <h3>{boutTitle(bout, index, open.people)}</h3>
              <ul className="not-measured">
                {tickSentences(bout).map((sentence) => (
                  <li key={sentence}>{sentence}</li>
                ))}
              </ul>
              {praiseNote(bout) === null ? null : <p className="note">{praiseNote(bout)}</p>}
            </div>
          ))}
      <p className="note">{DEBRIEF_WORDS.notMeasuredNote}</p>
      <ul className="not-measured">
        {NOT_BY_SWITCH.map((item) => (
          <li key={item}>
            {item}: <span className="quiet">{DEBRIEF_WORDS.notMeasuredValue}</span>
          </li>
        ))}
      </ul>
    </Folded>
  );
}
