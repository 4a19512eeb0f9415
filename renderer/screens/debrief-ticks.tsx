import type { ReactElement } from 'react';
import { boutTitle } from '../../machines/words/screen-debrief.ts';
import { praiseNote, TICKS_WORDS, tickSentences } from '../../machines/words/tick-words.ts';
import type { DebriefData } from '../app/debrief-data.ts';

/** What was ticked, bout by bout; nothing on a rhythm rig. */
export function DebriefTicks({ data }: { data: DebriefData }): ReactElement | null {
  const { report, open } = data;
  if (open.rig === 'rhythm') return null;
  return (
    <section aria-labelledby="ticks-title">
      <h2 id="ticks-title">{TICKS_WORDS.report}</h2>
      {report.bouts.map((bout, index) => (
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
    </section>
  );
}
