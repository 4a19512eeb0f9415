import type { ReactElement } from 'react';
import { boutTitle } from '../../machines/words/screen-debrief.ts';
import { praiseNote, tickSentences } from '../../machines/words/tick-words.ts';
import type { DebriefData } from '../app/debrief-data.ts';

/** What was ticked, bout by bout; nothing on a rhythm rig. */
export function DebriefTicks({ data }: { data: DebriefData }): ReactElement | null {
  const { report, open } = data;
  if (open.rig === 'rhythm') return null;
  return (
    <>
      {report.bouts.map((bout, index) => (
        <section key={bout.startMs}>
          <h3>{boutTitle(bout, index, open.people)}</h3>
          <ul className="not-measured">
            {tickSentences(bout).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
          {praiseNote(bout) === null ? null : <p className="note">{praiseNote(bout)}</p>}
        </section>
      ))}
    </>
  );
}
