import type { ReactElement } from 'react';
import { PERSONS, type Person, type Roles } from '../../machines/journal.ts';
import type { BoutReport } from '../../machines/scoring/report.ts';
import { type FigureGroup, figureTable } from '../../machines/words/figure-table.ts';
import {
  boutTitle,
  DEBRIEF_WORDS,
  handoverLines,
  handoverTitle,
  roleTitle,
} from '../../machines/words/screen-debrief.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { FigureGroups } from '../components/figure-groups.tsx';
import { Folded } from '../components/folded.tsx';

const ROLES = ['compressor', 'ventilator'] as const satisfies readonly (keyof Roles)[];

type DebriefDetailsProps = { data: DebriefData; onSource: () => void };

/** Every figure, bout by bout and role by role, for the instructor. */
export function DebriefDetails({ data, onSource }: DebriefDetailsProps): ReactElement {
  const { report, open } = data;
  return (
    <>
      <Folded title={DEBRIEF_WORDS.details}>
        {report.bouts.map((bout, index) => (
          <section key={bout.startMs}>
            <h3>{boutTitle(bout, index, open.people)}</h3>
            <FigureGroups
              groups={figureTable(bout, bout.idealCycleMs, bout.paceChangePctPerMin)}
              onSource={onSource}
            />
          </section>
        ))}
      </Folded>
      <Folded title={DEBRIEF_WORDS.roles}>
        {PERSONS.flatMap((person) =>
          ROLES.filter((role) => hasHeld(report.bouts, person, role)).map((role) => (
            <section key={`${person} ${role}`}>
              <h3>{roleTitle(open.people[person], role)}</h3>
              <FigureGroups groups={groupsOf(data, person, role)} onSource={onSource} />
            </section>
          )),
        )}
      </Folded>
      {report.handovers.length === 0 ? null : (
        <Folded title={DEBRIEF_WORDS.handoverFigures}>
          {report.handovers.map((handover) => (
            <FigureGroups
              key={handover.calledMs}
              groups={[{ title: handoverTitle(handover), lines: handoverLines(handover) }]}
              onSource={onSource}
            />
          ))}
        </Folded>
      )}
    </>
  );
}

function hasHeld(bouts: readonly BoutReport[], person: Person, role: keyof Roles): boolean {
  return bouts.some((bout) => bout.roles[role] === person);
}

/** The pair's figures while one person held a role, and that role's own. */
function groupsOf({ report, open }: DebriefData, person: Person, role: keyof Roles): FigureGroup[] {
  const [pair, compressor, ventilator] = figureTable(report.drill.people[person][role], open.cycleMs);
  return [role === 'compressor' ? compressor : ventilator, pair].filter((group) => group !== undefined);
}
