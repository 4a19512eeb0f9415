import type { ReactElement } from 'react';
import type { Person } from '../../machines/journal.ts';
import { LEARNER_WORDS, learnerRoles } from '../../machines/words/learner-page.ts';
import type { DebriefData } from '../app/debrief-data.ts';

type LearnerPageProps = { data: DebriefData; person: Person };

/** What a learner did in each role, in words and without milliseconds. The same on the screen and on their sheet of paper. */
export function LearnerPage({ data, person }: LearnerPageProps): ReactElement {
  const roles = learnerRoles(data.report, data.rows, person);
  if (roles.length === 0) return <p>{LEARNER_WORDS.none}</p>;
  return (
    <>
      {roles.map(({ role, title, lines, led }) => (
        <table className="figures learner" key={role}>
          <caption>
            {title}
            {led === null ? null : <span className="quiet"> {led}</span>}
          </caption>
          <thead>
            <tr>
              <th scope="col">{LEARNER_WORDS.what}</th>
              <th scope="col">{LEARNER_WORDS.happened}</th>
              <th scope="col">{LEARNER_WORDS.wanted}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={line.what}>
                <th scope="row">{line.what}</th>
                <td>{line.happened}</td>
                <td className="quiet">{line.wanted}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
      <p className="note">{LEARNER_WORDS.pairNote}</p>
    </>
  );
}
