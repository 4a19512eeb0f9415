import { type ReactElement, useEffect, useSyncExternalStore } from 'react';
import { LEDGER_LIST_WORDS as WORDS } from '../../machines/words/screen-ledger.ts';
import { PROBLEM_WORDS, SCREEN_WORDS } from '../../machines/words/screens.ts';
import type { LedgerShelf } from '../app/ledger-shelf.ts';
import type { PlanShelf } from '../app/plan-shelf.ts';
import { Folded } from '../components/folded.tsx';
import { holdBackRepeats } from './hold-back-repeats.ts';
import { LedgerFilterFields } from './ledger-filter-fields.tsx';
import { drillElementId, LedgerList } from './ledger-list.tsx';
import { LedgerPersonPage } from './ledger-person.tsx';
import { LedgerSearch } from './ledger-search.tsx';

type LedgerProps = {
  shelf: LedgerShelf;
  plans: PlanShelf;
  /** Why a drill could not be opened. */
  problem: string | null;
  onDebrief: (drillId: string) => void;
  onLeave: () => void;
};

/** Looks back over every drill of the station. */
export function Ledger({ shelf, plans, problem, onDebrief, onLeave }: LedgerProps): ReactElement {
  useSyncExternalStore(shelf.subscribe, () => shelf.version);
  useEffect(holdBackRepeats, []);
  useEffect(() => shelf.show(), [shelf]);
  useEffect(() => {
    if (shelf.openedId === null) return;
    const button = document.getElementById(drillElementId(shelf.openedId));
    button?.scrollIntoView({ block: 'center' });
    button?.focus();
  }, [shelf]);
  const open = (drillId: string) => {
    shelf.openedId = drillId;
    onDebrief(drillId);
  };
  if (shelf.personName !== null) {
    return <LedgerPersonPage key={shelf.personName} shelf={shelf} name={shelf.personName} onDebrief={open} />;
  }
  const wrong = shelf.problem ?? problem;
  return (
    <div className="ledger">
      <header>
        <h1>
          {SCREEN_WORDS.product} <span className="quiet">{WORDS.title}</span>
        </h1>
        <p className="quiet ledger-intro">{WORDS.intro}</p>
        {/* biome-ignore lint/a11y/noAutofocus: the page has just been opened, and its way back comes first */}
        <button type="button" className="plain" autoFocus={shelf.openedId === null} onClick={onLeave}>
          {WORDS.back}
        </button>
      </header>
      <main>
        <LedgerFilterFields shelf={shelf} plans={plans} />
        <div className="ledger-news">
          <p className="problem" role="alert">
            {wrong === null ? null : PROBLEM_WORDS.notOpened(wrong)}
          </p>
          <p role="status">
            {countWords(shelf)} <span className="quiet">{shelf.news}</span>
          </p>
          {shelf.unread === 0 ? null : <p className="note">{WORDS.unread(shelf.unread)}</p>}
        </div>
        <LedgerList shelf={shelf} onOpen={open} />
        {shelf.leftAlone.length === 0 ? null : (
          <Folded title={WORDS.leftAlone(shelf.leftAlone.length)}>
            <ul>
              {shelf.leftAlone.map((one) => (
                <li key={one.fileName}>{WORDS.leftAloneLine(one)}</li>
              ))}
            </ul>
          </Folded>
        )}
        <LedgerSearch shelf={shelf} />
      </main>
    </div>
  );
}

function countWords({ total, entries, unread, hasFilter }: LedgerShelf): string {
  if (total === null) return WORDS.looking;
  if (total > 0) return WORDS.count(total, entries.length);
  if (unread > 0) return WORDS.looking;
  return hasFilter ? WORDS.noMatch : WORDS.empty;
}
