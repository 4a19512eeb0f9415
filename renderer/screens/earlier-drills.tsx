import type { ReactElement } from 'react';
import type { DrillEntry, StationFacts } from '../../electron/contract.ts';
import { pairName } from '../../machines/words/screen-debrief.ts';
import { SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { formatWhen } from '../components/when.ts';

type EarlierDrillsProps = {
  entries: readonly DrillEntry[];
  facts: StationFacts | null;
  onDebrief: (drillId: string) => void;
  /** Left out where there is no Ledger to go to. */
  onLedger?: (() => void) | undefined;
};

/** The last few: looking back over all of them is the Ledger's work. */
export function EarlierDrills({ entries, facts, onDebrief, onLedger }: EarlierDrillsProps): ReactElement {
  return (
    <section className="earlier" aria-labelledby="earlier-title">
      <h2 id="earlier-title">{SET_UP_WORDS.earlier}</h2>
      {entries.length === 0 ? <p className="quiet">{SET_UP_WORDS.noEarlier}</p> : null}
      <ul>
        {entries.map((entry) => (
          <li key={entry.drillId}>
            <button type="button" className="plain" onClick={() => onDebrief(entry.drillId)}>
              {SET_UP_WORDS.openDebrief(pairName(entry.names), formatWhen(entry.openedAt))}
            </button>
            {entry.isClosed ? null : <span className="quiet"> {SET_UP_WORDS.notClosed}</span>}
          </li>
        ))}
      </ul>
      {onLedger === undefined ? null : (
        <button type="button" className="plain" onClick={onLedger}>
          {SET_UP_WORDS.ledger}
        </button>
      )}
      {facts === null ? null : <p className="note">{SET_UP_WORDS.folder(facts.journalFolder)}</p>}
    </section>
  );
}
