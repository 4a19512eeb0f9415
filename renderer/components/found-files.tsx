import type { ReactElement } from 'react';
import { searchSentence } from '../../machines/words/screen-ledger.ts';

type FoundFilesProps = { name: string; files: readonly string[] };

/** In how many files of the station a name stands, and in which. */
export function FoundFiles({ name, files }: FoundFilesProps): ReactElement {
  return (
    <>
      <p className="found-files">{searchSentence(name, files)}</p>
      {files.length === 0 ? null : (
        <ul className="plain-list">
          {files.map((file) => (
            <li key={file}>
              <code>{file}</code>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
