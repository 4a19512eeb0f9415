import type { ReactElement } from 'react';

type TakeFileProps = { label: string; onFile: (file: File) => void };

/** A JSON file to be chosen and taken in. */
export function TakeFile({ label, onFile }: TakeFileProps): ReactElement {
  return (
    <label className="take-in">
      {label}{' '}
      <input
        type="file"
        accept=".json,application/json"
        onChange={({ target }) => {
          const file = target.files?.[0];
          if (file !== undefined) onFile(file);
          // The same file, mended, may be chosen again.
          target.value = '';
        }}
      />
    </label>
  );
}
