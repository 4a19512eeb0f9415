import type { ReactElement } from 'react';
import { RIGS, TECHNIQUES } from '../../machines/journal.ts';
import { RIG_WORDS, TECHNIQUE_WORDS } from '../../machines/words/english.ts';
import { ARCHIVED_WORDS, LEDGER_LIST_WORDS as WORDS } from '../../machines/words/screen-ledger.ts';
import type { LedgerShelf } from '../app/ledger-shelf.ts';
import type { PlanShelf } from '../app/plan-shelf.ts';
import { DateField, SelectField, TextField } from '../components/labelled-fields.tsx';
import { startOfDay } from '../components/when.ts';

/** Stands for "any" among the choices: no name and no plan is empty. */
const ANY = '';

/** What of the Ledger is shown: it is asked for while it is typed. */
export function LedgerFilterFields({ shelf, plans }: { shelf: LedgerShelf; plans: PlanShelf }): ReactElement {
  const { filter, days } = shelf;
  const set = (changes: Partial<typeof filter>) => void shelf.setFilter(changes);
  const planNames = [
    ...plans.readyMade.map(({ plan }) => plan.name),
    ...plans.own.map(({ plan }) => plan.name),
    ...shelf.entries.flatMap(({ plan }) => (plan === null ? [] : [plan])),
    ...(filter.plan === null ? [] : [filter.plan]),
  ];
  const people = shelf.people.map(({ name }) => name);
  return (
    <section className="ledger-filter" aria-label={WORDS.filter}>
      <TextField
        label={WORDS.text}
        value={filter.text ?? ''}
        maxLength={200}
        onChange={(text) => set({ text: text.trim() === '' ? null : text })}
      />
      <SelectField
        label={WORDS.person}
        words={choicesOf(filter.person === null ? people : [...people, filter.person])}
        value={filter.person ?? ANY}
        onChange={(person) => set({ person: person === ANY ? null : person })}
      />
      <SelectField
        label={WORDS.plan}
        words={choicesOf(planNames)}
        value={filter.plan ?? ANY}
        onChange={(plan) => set({ plan: plan === ANY ? null : plan })}
      />
      <SelectField
        label={WORDS.rig}
        words={{ [ANY]: WORDS.any, ...RIG_WORDS }}
        value={filter.rig ?? ANY}
        onChange={(rig) => set({ rig: RIGS.find((one) => one === rig) ?? null })}
      />
      <SelectField
        label={WORDS.technique}
        words={{ [ANY]: WORDS.any, ...TECHNIQUE_WORDS }}
        value={filter.technique ?? ANY}
        onChange={(technique) => set({ technique: TECHNIQUES.find((one) => one === technique) ?? null })}
      />
      <DateField
        label={WORDS.from}
        value={days.from}
        onChange={(from) => void shelf.setDays({ ...days, from }, startOfDay)}
      />
      <DateField
        label={WORDS.to}
        value={days.to}
        onChange={(to) => void shelf.setDays({ ...days, to }, startOfDay)}
      />
      <SelectField
        label={WORDS.archived}
        words={ARCHIVED_WORDS}
        value={filter.archived}
        onChange={(archived) => set({ archived })}
      />
      <div className="ledger-filter-actions">
        {filter.person === null ? null : (
          <button type="button" className="plain" onClick={() => shelf.showPerson(filter.person)}>
            {WORDS.pageOf(filter.person)}
          </button>
        )}
        {shelf.hasFilter ? (
          <button type="button" className="plain" onClick={() => void shelf.clearFilter()}>
            {WORDS.all}
          </button>
        ) : null}
      </div>
    </section>
  );
}

function choicesOf(names: readonly string[]): Record<string, string> {
  // A name of digits would come before all others, whatever the order here: objects are so.
  return { [ANY]: WORDS.any, ...Object.fromEntries([...new Set(names)].map((name) => [name, name])) };
}
