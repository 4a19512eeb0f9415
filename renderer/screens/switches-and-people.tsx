import type { ReactElement } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { PERSONS, type Person } from '../../machines/journal.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';
import { SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { SWITCH_WORDS } from '../../machines/words/screen-switches.ts';
import { Choice } from '../components/choice.tsx';
import type { SwitchDesk } from '../switches/switch-desk.ts';
import { SwitchBindings } from './switch-bindings.tsx';

type SwitchesAndPeopleProps = {
  settings: StationSettings;
  desk: SwitchDesk;
  nameOfKey: (code: string) => string;
  onChange: (changes: Partial<StationSettings>) => void;
  onClass: () => void;
  onGuide: () => void;
  onMeasure: () => void;
};
const NAME_LABELS: Record<Person, string> = { A: SET_UP_WORDS.personA, B: SET_UP_WORDS.personB };

/** The two names, who compresses first, and which switch is whose. */
export function SwitchesAndPeople({
  settings,
  desk,
  nameOfKey,
  onChange,
  onClass,
  onGuide,
  onMeasure,
}: SwitchesAndPeopleProps): ReactElement {
  const { people, roles, binding } = settings;
  const nameOf = (person: Person) => people[person].trim() || NAME_LABELS[person];
  const isPlace = binding === 'place';
  return (
    <>
      <fieldset className="names">
        <legend>{SET_UP_WORDS.people}</legend>
        {PERSONS.map((person) => (
          <label key={person}>
            <span>{NAME_LABELS[person]}</span>
            <input
              type="text"
              value={people[person]}
              maxLength={80}
              autoComplete="off"
              spellCheck={false}
              // biome-ignore lint/a11y/noAutofocus: names are what changes from drill to drill, and the page has just been opened for them
              autoFocus={person === 'A'}
              onFocus={(event) => event.target.select()}
              onChange={(event) => onChange({ people: { ...people, [person]: event.target.value } })}
            />
          </label>
        ))}
      </fieldset>
      <button type="button" className="plain to-class" onClick={onClass}>
        {CLASS_PAGE_WORDS.toClass}
      </button>
      <Choice
        legend={SET_UP_WORDS.roles}
        name="compressor"
        options={PERSONS.map((person) => ({ value: person, label: nameOf(person) }))}
        value={roles.compressor}
        onChange={(compressor) =>
          onChange({ roles: { compressor, ventilator: compressor === 'A' ? 'B' : 'A' } })
        }
      />
      <SwitchBindings
        settings={settings}
        desk={desk}
        labels={{
          chest: isPlace ? SWITCH_WORDS.chest : SWITCH_WORDS.of(nameOf('A')),
          airway: isPlace ? SWITCH_WORDS.airway : SWITCH_WORDS.of(nameOf('B')),
        }}
        nameOfKey={nameOfKey}
        onChange={onChange}
        onGuide={onGuide}
        onMeasure={onMeasure}
      />
    </>
  );
}
