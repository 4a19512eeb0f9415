import { type ReactElement, useCallback } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { PERSONS, type Person } from '../../machines/journal.ts';
import { SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { Choice } from '../components/choice.tsx';
import { KeyBinding } from '../components/key-binding.tsx';

type KeysAndPeopleProps = {
  settings: StationSettings;
  nameOfKey: (code: string) => string;
  onChange: (changes: Partial<StationSettings>) => void;
};
const NAME_LABELS: Record<Person, string> = { A: SET_UP_WORDS.personA, B: SET_UP_WORDS.personB };

/** The two names, who compresses first, and which key is whose. */
export function KeysAndPeople({ settings, nameOfKey, onChange }: KeysAndPeopleProps): ReactElement {
  const { people, keys, roles, binding } = settings;
  const nameOf = (person: Person) => people[person].trim() || NAME_LABELS[person];
  const isPlace = binding === 'place';
  const bindChest = useCallback((chest: string) => onChange({ keys: { ...keys, chest } }), [keys, onChange]);
  const bindAirway = useCallback(
    (airway: string) => onChange({ keys: { ...keys, airway } }),
    [keys, onChange],
  );
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
      <Choice
        legend={SET_UP_WORDS.roles}
        name="compressor"
        options={PERSONS.map((person) => ({ value: person, label: nameOf(person) }))}
        value={roles.compressor}
        onChange={(compressor) =>
          onChange({ roles: { compressor, ventilator: compressor === 'A' ? 'B' : 'A' } })
        }
      />
      <fieldset className="keys">
        <legend>{SET_UP_WORDS.keys}</legend>
        <KeyBinding
          label={isPlace ? SET_UP_WORDS.chestKey : SET_UP_WORDS.keyOf(nameOf('A'))}
          code={keys.chest}
          otherCode={keys.airway}
          nameOf={nameOfKey}
          onBind={bindChest}
        />
        <KeyBinding
          label={isPlace ? SET_UP_WORDS.airwayKey : SET_UP_WORDS.keyOf(nameOf('B'))}
          code={keys.airway}
          otherCode={keys.chest}
          nameOf={nameOfKey}
          onBind={bindAirway}
        />
        <p className="note">{SET_UP_WORDS.keysNote}</p>
      </fieldset>
    </>
  );
}
