import { type FormEvent, type ReactElement, useState } from 'react';
import { personKey } from '../../machines/ledger/person-name.ts';
import { LEDGER_LIST_WORDS as WORDS } from '../../machines/words/screen-ledger.ts';
import type { LedgerShelf } from '../app/ledger-shelf.ts';
import { Folded } from '../components/folded.tsx';
import { FoundFiles } from '../components/found-files.tsx';
import { TextField } from '../components/labelled-fields.tsx';

/** Looks for a name in everything that the station keeps, also where the Ledger knows nobody of that name. */
export function LedgerSearch({ shelf }: { shelf: LedgerShelf }): ReactElement {
  const [name, setName] = useState('');
  const [isSearching, setSearching] = useState(false);
  const [found, setFound] = useState<{ name: string; files: readonly string[] } | null>(null);
  const search = async (event: FormEvent) => {
    event.preventDefault();
    if (personKey(name) === null || isSearching) return;
    setSearching(true);
    const files = await shelf.search(name);
    setSearching(false);
    setFound(files === null ? null : { name: name.trim(), files });
  };
  return (
    <Folded title={WORDS.search}>
      <form className="ledger-search" onSubmit={(event) => void search(event)}>
        <p className="note">{WORDS.searchNote}</p>
        <TextField label={WORDS.searchName} value={name} maxLength={80} onChange={setName} />
        <button type="submit" className="plain">
          {isSearching ? WORDS.searching : WORDS.searchDo}
        </button>
      </form>
      <div role="status">{found === null ? null : <FoundFiles name={found.name} files={found.files} />}</div>
    </Folded>
  );
}
