import type { ReactElement } from 'react';

type SomeOfProps<T extends string> = {
  legend: string;
  options: readonly { value: T; label: string }[];
  values: readonly T[];
  onChange: (values: readonly T[]) => void;
};

/** At least one of a few: the last that is chosen stays chosen. Values keep the options' order. */
export function SomeOf<T extends string>({
  legend,
  options,
  values,
  onChange,
}: SomeOfProps<T>): ReactElement {
  const toggle = (value: T, isWanted: boolean) => {
    const next = options
      .map((option) => option.value)
      .filter((one) => (one === value ? isWanted : values.includes(one)));
    if (next.length > 0) onChange(next);
  };
  return (
    <fieldset className="choice">
      <legend>{legend}</legend>
      <div className="choice-options">
        {options.map(({ value, label }) => (
          <label key={value}>
            <input
              type="checkbox"
              checked={values.includes(value)}
              onChange={(event) => toggle(value, event.target.checked)}
            />
            {label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
