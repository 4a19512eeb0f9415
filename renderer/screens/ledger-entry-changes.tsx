import { type FormEvent, type ReactElement, useState } from 'react';
import { LONGEST_TITLE } from '../../machines/journal.ts';
import type { LedgerEntry } from '../../machines/ledger/ledger-entry.ts';
import { personKey } from '../../machines/ledger/person-name.ts';
import { LEDGER_LIST_WORDS as WORDS } from '../../machines/words/screen-ledger.ts';
import type { LedgerShelf } from '../app/ledger-shelf.ts';
import { TextField } from '../components/labelled-fields.tsx';

type ChangesProps = { entry: LedgerEntry; shelf: LedgerShelf; onDone: () => void };
const LONGEST_NAME = 80;

/** What can be changed of a drill that is kept: its title, its place, its names, or that it is kept. */
export function LedgerEntryChanges({ entry, shelf, onDone }: ChangesProps): ReactElement {
  const [title, setTitle] = useState(entry.title ?? '');
  const [isAsking, setAsking] = useState(false);
  const names = Object.values(entry.names).filter((name) => personKey(name) !== null);
  const saveTitle = (event: FormEvent) => {
    event.preventDefault();
    void shelf.setTitle(entry, title);
  };
  return (
    <div className="ledger-changes">
      <form onSubmit={saveTitle}>
        <TextField
          label={WORDS.drillTitle}
          value={title}
          maxLength={LONGEST_TITLE}
          isFirst
          onChange={setTitle}
        />
        <button type="submit" className="plain">
          {WORDS.saveTitle}
        </button>
      </form>
      {names.map((name) => (
        <NameChange key={name} name={name} drillId={entry.drillId} shelf={shelf} />
      ))}
      {names.length === 0 ? null : <p className="note">{WORDS.namesNote}</p>}
      <div className="ledger-actions">
        {names.map((name) => (
          <button type="button" className="plain" key={name} onClick={() => shelf.showPerson(name)}>
            {WORDS.pageOf(name)}
          </button>
        ))}
        <button
          type="button"
          className="plain"
          onClick={() => void shelf.setArchived(entry, !entry.isArchived)}
        >
          {entry.isArchived ? WORDS.unarchive : WORDS.archive}
        </button>
        {isAsking ? (
          // biome-ignore lint/a11y/useSemanticElements: a fieldset is for fields, and this is a question
          <div className="ledger-actions" role="group" aria-label={WORDS.removeAsk}>
            <span>{WORDS.removeAsk}</span>
            {/* biome-ignore lint/a11y/noAutofocus: the question was asked for just now, and its answer is the next key */}
            <button type="button" className="plain" autoFocus onClick={() => setAsking(false)}>
              {WORDS.removeNo}
            </button>
            <button type="button" className="plain" onClick={() => void shelf.removeDrill(entry.drillId)}>
              {WORDS.removeYes}
            </button>
          </div>
        ) : (
          <button type="button" className="plain" onClick={() => setAsking(true)}>
            {WORDS.remove}
          </button>
        )}
        <button type="button" className="plain" onClick={onDone}>
          {WORDS.done}
        </button>
      </div>
    </div>
  );
}

type NameChangeProps = { name: string; drillId: string; shelf: LedgerShelf };

function NameChange({ name, drillId, shelf }: NameChangeProps): ReactElement {
  const [wanted, setWanted] = useState(name);
  const isChanged = personKey(wanted) !== null && wanted.trim() !== name;
  const put = (of: string | null) => {
    if (isChanged) void shelf.rename(name, wanted, of);
  };
  const button = (words: string, label: string, of: string | null) => (
    <button
      type="button"
      className="plain"
      aria-label={label}
      aria-disabled={!isChanged}
      onClick={() => put(of)}
    >
      {words}
    </button>
  );
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset's legend would say the field's label twice
    <div className="name-change" role="group" aria-label={`${WORDS.names}: ${name}`}>
      <TextField label={WORDS.nameOf(name)} value={wanted} maxLength={LONGEST_NAME} onChange={setWanted} />
      {button(WORDS.inThis, WORDS.inThisOf(name), drillId)}
      {button(WORDS.inAll, WORDS.inAllOf(name), null)}
    </div>
  );
}
