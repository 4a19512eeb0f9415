import { type FormEvent, type ReactElement, useRef, useState } from 'react';
import type { Leg, Plan } from '../../machines/plans/plan.ts';
import { checkPlan } from '../../machines/plans/plan-file.ts';
import { practise } from '../../machines/plans/ready-made.ts';
import { PLAN_FORM_WORDS, placeWords } from '../../machines/words/screen-plans.ts';
import { LongTextField, TextField } from '../components/labelled-fields.tsx';
import { CalledFields, LegFields } from './leg-fields.tsx';

type PlanFormProps = {
  plan: Plan;
  hostProblem: string | null;
  onSave: (plan: Plan) => Promise<void>;
  onCancel: () => void;
};
/** Legs move about: each keeps a key of its own while it is changed. */
type KeyedLeg = { key: number; leg: Leg };

/** A plan's every field. What is wrong is said when it is to be saved, with the leg it is in. */
export function PlanForm({ plan, hostProblem, onSave, onCancel }: PlanFormProps): ReactElement {
  const [words, setWords] = useState({ name: plan.name, ...plan.words });
  const [begin, setBegin] = useState(plan.begin);
  const [legs, setLegs] = useState<readonly KeyedLeg[]>(() => plan.legs.map((leg, key) => ({ key, leg })));
  const [problem, setProblem] = useState<string | null>(null);
  const nextKey = useRef(plan.legs.length);
  const keyed = (leg: Leg): KeyedLeg => ({ key: nextKey.current++, leg });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const { name, learners, instructor } = words;
    const checked = checkPlan({
      ...plan,
      name: name.trim(),
      words: { learners, instructor },
      begin,
      legs: legs.map(({ leg }) => leg),
    });
    setProblem(checked.ok ? null : PLAN_FORM_WORDS.wrong(placeWords(checked.path), checked.problem));
    if (checked.ok) void onSave(checked.plan);
  };
  const move = (index: number, by: -1 | 1) => {
    const moved = [...legs];
    const [one] = moved.splice(index, 1);
    if (one !== undefined) moved.splice(index + by, 0, one);
    setLegs(moved);
  };
  return (
    <main className="plan-form">
      <form onSubmit={submit} noValidate>
        <h1>{PLAN_FORM_WORDS.title}</h1>
        <TextField
          label={PLAN_FORM_WORDS.name}
          value={words.name}
          maxLength={80}
          isFirst
          onChange={(name) => setWords({ ...words, name })}
        />
        <LongTextField
          label={PLAN_FORM_WORDS.learners}
          value={words.learners}
          maxLength={400}
          onChange={(learners) => setWords({ ...words, learners })}
        />
        <LongTextField
          label={PLAN_FORM_WORDS.instructor}
          value={words.instructor}
          maxLength={1000}
          onChange={(instructor) => setWords({ ...words, instructor })}
        />
        <div className="leg-fields">
          <CalledFields label={PLAN_FORM_WORDS.begin} called={begin} onChange={setBegin} />
        </div>
        <ol className="form-legs">
          {legs.map(({ key, leg }, index) => (
            <li key={key}>
              <LegFields
                number={index + 1}
                leg={leg}
                isLast={index === legs.length - 1}
                onChange={(changed) =>
                  setLegs(legs.map((one) => (one.key === key ? { key, leg: changed } : one)))
                }
              />
              <div className="plan-actions">
                {index === 0 ? null : (
                  <LegButton words={PLAN_FORM_WORDS.up} number={index + 1} onPress={() => move(index, -1)} />
                )}
                {index === legs.length - 1 ? null : (
                  <LegButton words={PLAN_FORM_WORDS.down} number={index + 1} onPress={() => move(index, 1)} />
                )}
                <LegButton
                  words={PLAN_FORM_WORDS.copy}
                  number={index + 1}
                  onPress={() => setLegs(legs.toSpliced(index + 1, 0, keyed(leg)))}
                />
                {legs.length === 1 ? null : (
                  <LegButton
                    words={PLAN_FORM_WORDS.remove}
                    number={index + 1}
                    onPress={() => setLegs(legs.toSpliced(index, 1))}
                  />
                )}
              </div>
            </li>
          ))}
        </ol>
        <button
          type="button"
          className="plain"
          onClick={() => setLegs([...legs, keyed(legs.at(-1)?.leg ?? practise())])}
        >
          {PLAN_FORM_WORDS.add}
        </button>
        <footer>
          <p className="problem" role="alert">
            {problem ?? hostProblem}
          </p>
          <div className="plan-actions">
            <button type="submit" className="primary">
              {PLAN_FORM_WORDS.save}
            </button>
            <button type="button" className="plain" onClick={onCancel}>
              {PLAN_FORM_WORDS.cancel}
            </button>
          </div>
        </footer>
      </form>
    </main>
  );
}

type LegButtonProps = { words: string; number: number; onPress: () => void };

function LegButton({ words, number, onPress }: LegButtonProps): ReactElement {
  return (
    <button
      type="button"
      className="plain"
      aria-label={`${words}: ${PLAN_FORM_WORDS.leg(number)}`}
      onClick={onPress}
    >
      {words}
    </button>
  );
}
