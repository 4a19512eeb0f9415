import { type FormEvent, type ReactElement, useState } from 'react';
import { personKey } from '../../machines/ledger/person-name.ts';
import { PERSON_WORDS } from '../../machines/words/screen-ledger.ts';
import type { LedgerShelf, ProvenRemoval } from '../app/ledger-shelf.ts';
import { Folded } from '../components/folded.tsx';
import { TextField } from '../components/labelled-fields.tsx';

type RemovalProps = { shelf: LedgerShelf; name: string; onRemoved: (removed: ProvenRemoval) => void };

/** Says what removing a person does, and has the name typed before it does it. */
export function PersonRemoval({ shelf, name, onRemoved }: RemovalProps): ReactElement {
  const [typed, setTyped] = useState('');
  const [isWrong, setWrong] = useState(false);
  const [isRemoving, setRemoving] = useState(false);
  const remove = async (event: FormEvent) => {
    event.preventDefault();
    if (isRemoving) return;
    const isName = personKey(typed) === personKey(name);
    setWrong(!isName);
    if (!isName) return;
    setRemoving(true);
    const removed = await shelf.removePerson(name);
    setRemoving(false);
    if (removed !== null) onRemoved(removed);
  };
  return (
    <Folded title={PERSON_WORDS.remove(name)}>
      <form className="person-removal" onSubmit={(event) => void remove(event)}>
        <p>{PERSON_WORDS.removeWhat}</p>
        <p>{PERSON_WORDS.removeNotReached}</p>
        <TextField label={PERSON_WORDS.typeName(name)} value={typed} maxLength={80} onChange={setTyped} />
        <p className="problem" role="alert">
          {isWrong ? PERSON_WORDS.notTheName : null}
        </p>
        <button type="submit" className="plain" aria-disabled={isRemoving}>
          {isRemoving ? PERSON_WORDS.removing : PERSON_WORDS.removeDo}
        </button>
      </form>
    </Folded>
  );
}
