import { memo, type ReactElement, useState } from 'react';
import type { LedgerEntry } from '../../machines/ledger/ledger-entry.ts';
import { pairName } from '../../machines/words/screen-debrief.ts';
import { entryFacts, entryMarks, LEDGER_LIST_WORDS as WORDS } from '../../machines/words/screen-ledger.ts';
import type { LedgerShelf } from '../app/ledger-shelf.ts';
import { formatDay, formatTimeOfDay, formatWhen } from '../components/when.ts';
import { LedgerEntryChanges } from './ledger-entry-changes.tsx';

type LedgerListProps = { shelf: LedgerShelf; onOpen: (drillId: string) => void };

/** The drills by day, newest first. */
export function LedgerList({ shelf, onOpen }: LedgerListProps): ReactElement {
  const { entries, total } = shelf;
  return (
    <>
      {daysOf(entries).map(({ day, of }) => (
        <section className="ledger-day" key={day} aria-label={day}>
          <h2>{day}</h2>
          <ul>
            {of.map((entry) => (
              <LedgerRow key={entry.drillId} entry={entry} shelf={shelf} onOpen={onOpen} />
            ))}
          </ul>
        </section>
      ))}
      {total !== null && entries.length < total ? (
        <button type="button" className="primary" onClick={() => void shelf.showMore()}>
          {WORDS.more}
        </button>
      ) : null}
    </>
  );
}

/** Where a drill's way into its Debrief stands in the page. */
export function drillElementId(drillId: string): string {
  return `drill-${drillId}`;
}

type LedgerRowProps = { entry: LedgerEntry; shelf: LedgerShelf; onOpen: (drillId: string) => void };

const LedgerRow = memo(function LedgerRow({ entry, shelf, onOpen }: LedgerRowProps): ReactElement {
  const [isChanging, setChanging] = useState(false);
  const names = pairName(entry.names);
  const marks = entryMarks(entry);
  const words = isChanging ? WORDS.done : WORDS.change;
  return (
    <li className="ledger-row">
      <span className="ledger-time">{formatTimeOfDay(entry.openedAt)}</span>
      <div>
        <button
          type="button"
          className="plain ledger-open"
          id={drillElementId(entry.drillId)}
          onClick={() => onOpen(entry.drillId)}
        >
          {names}
        </button>
        {entry.title === null ? null : <span className="ledger-title"> “{entry.title}”</span>}
        <p className="note">
          {entryFacts(entry)}
          {marks.map((mark) => (
            <span className="ledger-mark" key={mark}>
              {mark}
            </span>
          ))}
        </p>
        {isChanging ? (
          <LedgerEntryChanges entry={entry} shelf={shelf} onDone={() => setChanging(false)} />
        ) : null}
      </div>
      <button
        type="button"
        className="plain"
        aria-expanded={isChanging}
        aria-label={WORDS.of(words, names, formatWhen(entry.openedAt))}
        onClick={() => setChanging(!isChanging)}
      >
        {words}
      </button>
    </li>
  );
});

function daysOf(entries: readonly LedgerEntry[]): { day: string; of: LedgerEntry[] }[] {
  const days: { day: string; of: LedgerEntry[] }[] = [];
  for (const entry of entries) {
    const day = formatDay(entry.openedAt);
    const last = days.at(-1);
    if (last?.day === day) last.of.push(entry);
    else days.push({ day, of: [entry] });
  }
  return days;
}
