import type { ReactElement } from 'react';

type ChoiceProps<T extends string> = {
  legend: string;
  name: string;
  options: readonly { value: T; label: string; note?: string | undefined }[];
  value: T;
  onChange: (value: T) => void;
};

/** One of a few, as plain words: the note of the one chosen is shown below. */
export function Choice<T extends string>({
  legend,
  name,
  options,
  value,
  onChange,
}: ChoiceProps<T>): ReactElement {
  const note = options.find((option) => option.value === value)?.note;
  return (
    <fieldset className="choice">
      <legend>{legend}</legend>
      <div className="choice-options">
        {options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            {option.label}
          </label>
        ))}
      </div>
      {note === undefined ? null : <p className="note">{note}</p>}
    </fieldset>
  );
}

type Worded = string | { label: string; note?: string };

/** A table of words as options, in its order. */
export function optionsOf<T extends string>(
  words: Record<T, Worded>,
): { value: T; label: string; note?: string }[] {
  return (Object.entries(words) as [T, Worded][]).map(([value, word]) =>
    typeof word === 'string' ? { value, label: word } : { value, ...word },
  );
}
