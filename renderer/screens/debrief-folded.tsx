import { type ReactElement, type ReactNode, useRef } from 'react';
import { PERSONS } from '../../machines/journal.ts';
import { guidelineOf } from '../../machines/pattern.ts';
import { firstRightMsOf } from '../../machines/scoring/handover-figures.ts';
import { formatClock } from '../../machines/words/format.ts';
import { checkSentence, handoverWithSteps } from '../../machines/words/handover-sentence.ts';
import { LEARNER_WORDS } from '../../machines/words/learner-page.ts';
import { PLUS_MINUS_NOTE, switchOffsetSentence } from '../../machines/words/plus-minus-words.ts';
import { DEBRIEF_WORDS } from '../../machines/words/screen-debrief.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { Folded } from '../components/folded.tsx';
import { GuidelineTable } from '../components/guideline-numbers.tsx';
import { DebriefComparisons } from './debrief-comparisons.tsx';
import { DebriefDetails } from './debrief-details.tsx';
import { CountSurvival, DeadTime } from './debrief-tables.tsx';
import { DebriefTicks } from './debrief-ticks.tsx';
import { DebriefVentilation } from './debrief-ventilation.tsx';
import { LearnerPage } from './learner-page.tsx';

type DebriefFoldedProps = { data: DebriefData; children: ReactNode };

/** Everything but the headline, the sheet and what to try: each part folded, those for learners first. */
export function DebriefFolded({ data, children }: DebriefFoldedProps): ReactElement {
  const { report, open, fileName } = data;
  const sources = useRef<HTMLDivElement>(null);
  const showSources = () => {
    const details = sources.current?.querySelector('details');
    if (!details) return;
    details.open = true;
    details.querySelector('summary')?.focus();
    details.scrollIntoView({ block: 'start' });
  };
  const guideline = guidelineOf(open.guideline);
  return (
    <div className="debrief-details">
      {PERSONS.map((person) => (
        <Folded key={person} title={LEARNER_WORDS.title(open.people[person])}>
          <LearnerPage data={data} person={person} />
        </Folded>
      ))}
      <DebriefTicks data={data} />
      <Folded title={DEBRIEF_WORDS.handovers}>
        <Handovers data={data} />
      </Folded>
      <DeadTime data={data} />
      <DebriefVentilation stage={report.ventilationStage} guideline={open.guideline} onSource={showSources} />
      <CountSurvival drill={report.drill} />
      <DebriefComparisons data={data} />
      {children}
      <DebriefDetails data={data} onSource={showSources} />
      <div ref={sources}>
        <Folded title={DEBRIEF_WORDS.sources}>
          <p className="note">{DEBRIEF_WORDS.sourcesNote}</p>
          {guideline === null ? null : <GuidelineTable guideline={guideline} />}
          <p className="note">
            {switchOffsetSentence(report.drill)} {PLUS_MINUS_NOTE}
          </p>
        </Folded>
      </div>
      {report.warnings.length === 0 ? null : (
        <Folded title={DEBRIEF_WORDS.warnings}>
          <ul>
            {report.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
          </ul>
        </Folded>
      )}
      <p className="note">
        {DEBRIEF_WORDS.journal}: <code>{fileName}</code>
      </p>
    </div>
  );
}

/** What each handover and check cost, in a line each. */
export function Handovers({ data }: { data: DebriefData }): ReactElement {
  const { report } = data;
  if (report.handovers.length + report.checks.length === 0) return <p>{DEBRIEF_WORDS.noHandovers}</p>;
  return (
    <ul className="handovers">
      {handoversOf(data).map(({ calledMs, sentence }) => (
        <li key={`${calledMs} ${sentence}`}>
          <span className="quiet">{formatClock(calledMs)}</span> {sentence}
        </li>
      ))}
    </ul>
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
