import { type ReactElement, useState, useSyncExternalStore } from 'react';
import { fileProblemWords } from '../../machines/json-file.ts';
import { PLAN_SUFFIX, type Plan } from '../../machines/plans/plan.ts';
import { PLAN_FORM } from '../../machines/plans/plan-file.ts';
import { newPlan } from '../../machines/plans/ready-made.ts';
import { PLANS_WORDS } from '../../machines/words/screen-plans.ts';
import { readChosenFile, shareFile } from '../adapters/chosen-files.ts';
import type { PlanShelf, ShelfPlan } from '../app/plan-shelf.ts';
import { TakeFile } from '../components/take-file.tsx';
import { PlanCautions, PlanLegs } from './plan-choice.tsx';
import { PlanForm } from './plan-form.tsx';

type PlansPageProps = { shelf: PlanShelf; chosen: string | null; onBack: () => void };
/** The plan that is being changed; id null: a new one. */
type Draft = { id: string | null; plan: Plan };

/** All plans: to look at, change, duplicate, share and take in. */
export function PlansPage({ shelf, chosen, onBack }: PlansPageProps): ReactElement {
  useSyncExternalStore(shelf.subscribe, () => shelf.version);
  const [draft, setDraft] = useState<Draft | null>(null);
  const [news, setNews] = useState<{ text: string; isProblem: boolean } | null>(null);
  if (draft !== null) {
    return (
      <PlanForm
        plan={draft.plan}
        hostProblem={shelf.problem}
        onSave={async (plan) => {
          if ((await shelf.save(draft.id, plan)) !== null) setDraft(null);
        }}
        onCancel={() => setDraft(null)}
      />
    );
  }
  const takeIn = async (file: File) => {
    const parsed = await readChosenFile(file, PLAN_FORM);
    if (parsed === null) return setNews({ text: PLANS_WORDS.notRead(file.name), isProblem: true });
    if (!parsed.ok) {
      const text = PLANS_WORDS.refused(file.name, fileProblemWords(parsed.problem));
      return setNews({ text, isProblem: true });
    }
    const id = await shelf.save(null, parsed.value);
    setNews(id === null ? null : { text: PLANS_WORDS.taken(parsed.value.name), isProblem: false });
  };
  const duplicate = (plan: Plan) =>
    setDraft({ id: null, plan: { ...plan, name: PLANS_WORDS.copyName(plan.name) } });
  const problem = news?.isProblem === true ? news.text : shelf.problem;
  return (
    <main className="plans">
      <header>
        <h1>{PLANS_WORDS.title}</h1>
        <p className="quiet">{PLANS_WORDS.intro}</p>
        <div className="plan-actions">
          {/* biome-ignore lint/a11y/noAutofocus: the page has just been opened, and its way back comes first */}
          <button type="button" className="plain" autoFocus onClick={onBack}>
            {PLANS_WORDS.back}
          </button>
          <button
            type="button"
            className="plain"
            onClick={() => setDraft({ id: null, plan: newPlan(PLANS_WORDS.newName) })}
          >
            {PLANS_WORDS.newOne}
          </button>
          <TakeFile label={PLANS_WORDS.take} onFile={(file) => void takeIn(file)} />
        </div>
        <p className="problem" role="alert">
          {problem}
        </p>
        <p role="status">{news?.isProblem === false ? news.text : null}</p>
      </header>
      <section aria-labelledby="own-plans">
        <h2 id="own-plans">{PLANS_WORDS.own}</h2>
        {shelf.stored.length === 0 ? <p className="quiet">{PLANS_WORDS.noneOwn}</p> : null}
        {shelf.own.map((one) => (
          <PlanEntry
            key={one.id}
            entry={one}
            isChosen={one.id === chosen}
            onChange={() => setDraft(one)}
            onDuplicate={() => duplicate(one.plan)}
            onRemove={() => void shelf.remove(one.id)}
          />
        ))}
        {shelf.stored.map(({ fileName, problem: wrong }) =>
          wrong === null ? null : (
            <p className="problem" key={fileName}>
              {PLANS_WORDS.badFile(fileName, wrong)}
            </p>
          ),
        )}
      </section>
      <section aria-labelledby="ready-plans">
        <h2 id="ready-plans">{PLANS_WORDS.readyMade}</h2>
        {shelf.readyMade.map((one) => (
          <PlanEntry
            key={one.id}
            entry={one}
            isChosen={one.id === chosen}
            onDuplicate={() => duplicate(one.plan)}
          />
        ))}
      </section>
    </main>
  );
}

type PlanEntryProps = {
  entry: ShelfPlan;
  isChosen: boolean;
  onChange?: () => void;
  onDuplicate: () => void;
  onRemove?: () => void;
};

function PlanEntry({
  entry: { plan },
  isChosen,
  onChange,
  onDuplicate,
  onRemove,
}: PlanEntryProps): ReactElement {
  const [isAsking, setAsking] = useState(false);
  const action = (words: string, act: () => void) => (
    <button type="button" className="plain" aria-label={PLANS_WORDS.of(words, plan.name)} onClick={act}>
      {words}
    </button>
  );
  return (
    <article className="plan-entry">
      <h3>
        {plan.name} {isChosen ? <span className="quiet">{PLANS_WORDS.chosen}</span> : null}
      </h3>
      <p className="note">{plan.words.instructor}</p>
      <PlanCautions plan={plan} />
      <PlanLegs plan={plan} />
      {isAsking && onRemove !== undefined ? (
        // biome-ignore lint/a11y/useSemanticElements: a fieldset is for fields, and this is a question
        <div className="plan-actions" role="group" aria-label={PLANS_WORDS.removeAsk(plan.name)}>
          <span>{PLANS_WORDS.removeAsk(plan.name)}</span>
          {/* biome-ignore lint/a11y/noAutofocus: the question was asked for just now, and its answer is the next key */}
          <button type="button" className="plain" autoFocus onClick={() => setAsking(false)}>
            {PLANS_WORDS.removeNo}
          </button>
          <button type="button" className="plain" onClick={onRemove}>
            {PLANS_WORDS.removeYes}
          </button>
        </div>
      ) : (
        <div className="plan-actions">
          {onChange === undefined ? null : action(PLANS_WORDS.change, onChange)}
          {action(PLANS_WORDS.duplicate, onDuplicate)}
          {action(PLANS_WORDS.share, () => shareFile(plan, plan.name, PLAN_SUFFIX, document))}
          {onRemove === undefined ? null : action(PLANS_WORDS.remove, () => setAsking(true))}
        </div>
      )}
    </article>
  );
}
