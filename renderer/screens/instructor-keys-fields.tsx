import { type ReactElement, useEffect, useState } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { INSTRUCTOR_KEYS, type InstructorKey, KEYS_AS_AT_FIRST } from '../../machines/instructor-keys.ts';
import {
  INSTRUCTOR_KEY_CALLS,
  INSTRUCTOR_KEY_REFUSALS,
  INSTRUCTOR_KEY_WORDS,
} from '../../machines/words/instructor-keys.ts';
import {
  type ChoiceRefusal,
  choiceRefusalOf,
  instructorKeyName,
  withKeyChosen,
} from '../adapters/key-uses.ts';
import { listenForOneKey } from '../adapters/one-key.ts';

type InstructorKeysFieldsProps = {
  settings: Pick<StationSettings, 'instructorKeys' | 'switches'>;
  nameOfKey: (code: string) => string;
  onChange: (changes: Pick<StationSettings, 'instructorKeys'>) => void;
};

/** Every call with its key, each changed by pressing another; folded, since few ever do. */
export function InstructorKeysFields(props: InstructorKeysFieldsProps): ReactElement {
  const { settings, nameOfKey, onChange } = props;
  const { instructorKeys, switches } = settings;
  const [asking, setAsking] = useState<InstructorKey | null>(null);
  const [refusal, setRefusal] = useState<ChoiceRefusal | null>(null);
  useEffect(() => {
    if (asking === null) return;
    return listenForOneKey(window, {
      onKey: (code) => {
        const refused = choiceRefusalOf(code, asking, instructorKeys, [switches.chest, switches.airway]);
        setRefusal(refused);
        if (refused !== null) return;
        onChange({ instructorKeys: withKeyChosen(instructorKeys, asking, code) });
        setAsking(null);
      },
      onGivenUp: () => setAsking(null),
    });
  }, [asking, instructorKeys, switches, onChange]);
  const ask = (key: InstructorKey | null) => {
    setRefusal(null);
    setAsking(key);
  };
  return (
    <details
      className="instructor-keys"
      onToggle={({ currentTarget }) => (currentTarget.open ? undefined : ask(null))}
    >
      <summary>{INSTRUCTOR_KEY_WORDS.title}</summary>
      <p className="note">{INSTRUCTOR_KEY_WORDS.note}</p>
      <p className="refusal" role="status">
        {refusal === null ? '' : INSTRUCTOR_KEY_REFUSALS[refusal]}
      </p>
      <ul>
        {INSTRUCTOR_KEYS.map((key) => (
          <li key={key} className="switch-binding">
            <kbd className="keycap">{instructorKeyName(key, nameOfKey, instructorKeys)}</kbd>
            <span>{INSTRUCTOR_KEY_CALLS[key]}</span>
            <button type="button" className="plain" aria-pressed={asking === key} onClick={() => ask(key)}>
              {asking === key ? INSTRUCTOR_KEY_WORDS.pressNow : INSTRUCTOR_KEY_WORDS.change}
              <span className="unseen"> {INSTRUCTOR_KEY_CALLS[key]}</span>
            </button>
          </li>
        ))}
      </ul>
      <button
        type="button"
        className="plain"
        onClick={() => {
          ask(null);
          onChange({ instructorKeys: KEYS_AS_AT_FIRST });
        }}
      >
        {INSTRUCTOR_KEY_WORDS.reset}
      </button>
    </details>
  );
}
