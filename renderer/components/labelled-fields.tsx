import type { ReactElement } from 'react';

type SelectFieldProps<T extends string> = {
  label: string;
  words: Record<T, string>;
  value: T;
  onChange: (value: T) => void;
};

/** One of a few, folded: for forms of many fields. */
export function SelectField<T extends string>({
  label,
  words,
  value,
  onChange,
}: SelectFieldProps<T>): ReactElement {
  return (
    <label className="labelled-field">
      <span className="field-label">{label}</span>
      <select value={value} onChange={({ target }) => onChange(target.value as T)}>
        {(Object.entries(words) as [T, string][]).map(([one, word]) => (
          <option key={one} value={one}>
            {word}
          </option>
        ))}
      </select>
    </label>
  );
}

type TextFieldProps = {
  label: string;
  value: string;
  maxLength: number;
  /** The page has just been opened, and begins here. */
  isFirst?: boolean;
  onChange: (value: string) => void;
};

export function TextField({ label, value, maxLength, isFirst, onChange }: TextFieldProps): ReactElement {
  return (
    <label className="labelled-field wide-field">
      <span className="field-label">{label}</span>
      <input
        type="text"
        value={value}
        maxLength={maxLength}
        autoComplete="off"
        // biome-ignore lint/a11y/noAutofocus: only where a page has just been opened for it
        autoFocus={isFirst === true}
        onChange={({ target }) => onChange(target.value)}
      />
    </label>
  );
}

export function LongTextField({ label, value, maxLength, onChange }: TextFieldProps): ReactElement {
  return (
    <label className="labelled-field wide-field">
      <span className="field-label">{label}</span>
      <textarea
        rows={2}
        value={value}
        maxLength={maxLength}
        onChange={({ target }) => onChange(target.value)}
      />
    </label>
  );
}

type NumberFieldProps = { label: string; value: number | null; onChange: (value: number | null) => void };

/** A number as it is written, right or wrong: the form says what is wrong with it. Null: empty. */
export function NumberField({ label, value, onChange }: NumberFieldProps): ReactElement {
  return (
    <label className="labelled-field">
      <span className="field-label">{label}</span>
      <input
        type="number"
        defaultValue={value ?? ''}
        onChange={({ target }) => onChange(Number.isNaN(target.valueAsNumber) ? null : target.valueAsNumber)}
      />
    </label>
  );
}

type DateFieldProps = { label: string; value: string; onChange: (day: string) => void };

/** A calendar day as "2026-03-02"; empty: none. */
export function DateField({ label, value, onChange }: DateFieldProps): ReactElement {
  return (
    <label className="labelled-field">
      <span className="field-label">{label}</span>
      <input type="date" value={value} onChange={({ target }) => onChange(target.value)} />
    </label>
  );
}
