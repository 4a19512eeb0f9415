import type { ReactElement } from 'react';
import type { Person } from '../../machines/journal.ts';
import { LEARNER_WORDS, learnerRoles } from '../../machines/words/learner-page.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { PlainTable } from '../components/plain-table.tsx';

type LearnerPageProps = { data: DebriefData; person: Person };

/** What a learner did in each role, in words and without milliseconds. The same on the screen and on their sheet of paper. */
export function LearnerPage({ data, person }: LearnerPageProps): ReactElement {
  const roles = learnerRoles(data.report, data.rows, person);
  if (roles.length === 0) return <p>{LEARNER_WORDS.none}</p>;
  return (
    <>
      {roles.map(({ role, title, lines, led }) => (
        <PlainTable
          key={role}
          kind="learner"
          caption={led === null ? title : `${title}. ${led}`}
          columns={[LEARNER_WORDS.what, LEARNER_WORDS.happened, LEARNER_WORDS.wanted]}
          rows={lines.map(({ what, happened, wanted }) => ({
            head: what,
            cells: [happened, { quiet: wanted }],
          }))}
        />
      ))}
      <p className="note">{LEARNER_WORDS.pairNote}</p>
    </>
  );
}
