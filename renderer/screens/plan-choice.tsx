import { type ReactElement, useSyncExternalStore } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { lengthOf, type Plan } from '../../machines/plans/plan.ts';
import {
  calledWords,
  legWords,
  lengthWords,
  planCautions,
  uncheckedWords,
} from '../../machines/words/plan-words.ts';
import { PLANS_WORDS } from '../../machines/words/screen-plans.ts';
import type { PlanShelf } from '../app/plan-shelf.ts';
import { uncheckedLeg, withPlanChosen } from '../app/set-up-form.ts';

type PlanChoiceProps = {
  shelf: PlanShelf;
  settings: StationSettings;
  onChange: (changes: Partial<StationSettings>) => void;
  onPlans: () => void;
};

/** The plan of that id as it is on the shelf now; null: none. */
export function usePlan(shelf: PlanShelf, id: string | null): Plan | null {
  useSyncExternalStore(shelf.subscribe, () => shelf.version);
  return shelf.find(id);
}

/** Which plan is run, if any, and what it means to do. */
export function PlanChoice({ shelf, settings, onChange, onPlans }: PlanChoiceProps): ReactElement {
  const plan = usePlan(shelf, settings.plan);
  const unchecked = plan === null ? null : uncheckedLeg(settings, plan);
  const groups = [
    { label: PLANS_WORDS.readyMade, plans: shelf.readyMade },
    { label: PLANS_WORDS.own, plans: shelf.own },
  ];
  return (
    <div className="plan-choice">
      <label>
        <span className="field-label">{PLANS_WORDS.plan}</span>
        <select
          value={plan === null ? '' : (settings.plan ?? '')}
          onChange={({ target }) => onChange(withPlanChosen(target.value || null, shelf.find(target.value)))}
        >
          <option value="">{PLANS_WORDS.none}</option>
          {groups
            .filter(({ plans }) => plans.length > 0)
            .map(({ label, plans }) => (
              <optgroup key={label} label={label}>
                {plans.map((one) => (
                  <option key={one.id} value={one.id}>
                    {one.plan.name}
                  </option>
                ))}
              </optgroup>
            ))}
        </select>
      </label>
      <button type="button" className="plain" onClick={onPlans}>
        {PLANS_WORDS.toPlans}
      </button>
      {plan === null ? null : (
        <>
          <p className="note">{plan.words.instructor}</p>
          <PlanCautions plan={plan} />
          {unchecked === null ? null : <p className="note">{uncheckedWords(unchecked)}</p>}
          <PlanLegs plan={plan} people={settings.people} />
          <p className="note">{PLANS_WORDS.says}</p>
        </>
      )}
    </div>
  );
}

/** The legs in words, folded under how many there are and how long they last. */
export function PlanLegs({ plan, people }: { plan: Plan; people?: { A: string; B: string } }): ReactElement {
  const names = people !== undefined && people.A.trim() !== '' && people.B.trim() !== '' ? people : undefined;
  return (
    <details className="plan-legs">
      <summary>{lengthWords(plan.legs.length, lengthOf(plan))}</summary>
      <p className="note">
        {PLANS_WORDS.begin} {calledWords(plan.begin)}
      </p>
      <ol>
        {plan.legs.map((leg, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a leg is its place in the plan
          <li key={index}>
            {legWords(leg, names)};{' '}
            <span className="quiet">
              {index === plan.legs.length - 1 ? PLANS_WORDS.finish : PLANS_WORDS.nextLeg}{' '}
              {calledWords(leg.next)}
            </span>
            {leg.note === undefined ? null : <span className="note leg-note">{leg.note}</span>}
          </li>
        ))}
      </ol>
    </details>
  );
}

export function PlanCautions({ plan }: { plan: Plan }): ReactElement | null {
  const cautions = planCautions(plan);
  if (cautions.length === 0) return null;
  return (
    <ul className="plan-cautions">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}
