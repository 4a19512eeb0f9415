import type { ReactElement } from 'react';
import type { PlanView } from '../../machines/plans/plan-view.ts';
import { legWords, PLAN_WORDS, standingWords } from '../../machines/words/plan-words.ts';
import { KeyButton } from '../components/key-button.tsx';

type PlanStandingProps = {
  view: PlanView;
  people: { A: string; B: string };
  onNext: (timeStampMs: number) => void;
};

/** The plan as the instructor follows it: the leg that is on, what comes next, and when. */
export function PlanStanding({ view, people, onNext }: PlanStandingProps): ReactElement {
  const { plan, state, leg, next } = view;
  const isOver = state === 'over';
  return (
    <section className="plan-standing" aria-labelledby="plan-title">
      <h2 id="plan-title">
        <span className="quiet">{PLAN_WORDS.title}</span> {plan.name}
      </h2>
      <p className="plan-left">{standingWords(view)}</p>
      {leg === null ? <p>{plan.words.instructor}</p> : null}
      {isOver || leg?.leg.note === undefined ? null : <p>{leg.leg.note}</p>}
      {isOver ? null : (
        <p>
          <span className="quiet">{leg === null ? PLAN_WORDS.first : PLAN_WORDS.next}</span>{' '}
          {next === null ? PLAN_WORDS.finish : legWords(next, people)}
        </p>
      )}
      {isOver ? null : <KeyButton keyName="Enter" label={nextLabel(view)} isPossible onPress={onNext} />}
    </section>
  );
}

function nextLabel({ state, next }: PlanView): string {
  if (state === 'not begun') return PLAN_WORDS.beginNow;
  return next === null ? PLAN_WORDS.finishNow : PLAN_WORDS.nextLeg;
}
