import { type FormEvent, type ReactElement, useCallback, useEffect, useRef, useState } from 'react';
import { RIGS } from '../../machines/journal.ts';
import { ROLES } from '../../machines/ledger/ledger-entry.ts';
import type { PersonPage } from '../../machines/ledger/person-page.ts';
import { CAUTIONS, RIG_WORDS } from '../../machines/words/english.ts';
import { LEDGER_WORDS } from '../../machines/words/ledger-words.ts';
import { notInTrendWords, PERSON_WORDS } from '../../machines/words/screen-ledger.ts';
import { PROBLEM_WORDS } from '../../machines/words/screens.ts';
import type { LedgerShelf, ProvenRemoval } from '../app/ledger-shelf.ts';
import { FoundFiles } from '../components/found-files.tsx';
import { NumberField } from '../components/labelled-fields.tsx';
import { formatDayAfter, formatShortDay } from '../components/when.ts';
import { PersonRemoval } from './person-removal.tsx';
import { PersonSeriesView } from './person-series.tsx';

type PersonPageProps = { shelf: LedgerShelf; name: string; onDebrief: (drillId: string) => void };
type Loaded = { page: PersonPage | null; interval: number | null };

/** What there is of one person: their drills with each partner, by role and rig. */
export function LedgerPersonPage({ shelf, name, onDebrief }: PersonPageProps): ReactElement {
  const [loaded, setLoaded] = useState<Loaded | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const [removed, setRemoved] = useState<ProvenRemoval | null>(null);
  const load = useCallback(async () => {
    const [page, interval] = await Promise.all([shelf.loadPerson(name), shelf.interval()]);
    if (page.ok) setLoaded({ page: page.value, interval });
    setWrong(page.ok ? null : page.message);
  }, [shelf, name]);
  useEffect(() => void load(), [load]);
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    // The field that had the focus is gone.
    if (removed !== null) heading.current?.focus();
  }, [removed]);
  const problem = shelf.problem ?? wrong;
  const page = loaded?.page ?? null;
  const title = removed === null ? (page?.name ?? name) : PERSON_WORDS.removedTitle(name);
  return (
    <div className="ledger person-page">
      <header>
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {/* biome-ignore lint/a11y/noAutofocus: the page has just been opened, and its way back comes first */}
        <button type="button" className="plain" autoFocus onClick={() => shelf.showPerson(null)}>
          {PERSON_WORDS.back}
        </button>
        <p className="problem" role="alert">
          {problem === null ? null : PROBLEM_WORDS.notOpened(problem)}
        </p>
      </header>
      <main>
        <div role="status">
          {removed === null ? null : (
            <>
              <p>{PERSON_WORDS.removal(removed.removal)}</p>
              <FoundFiles name={name} files={removed.files} />
              <p className="note">{LEDGER_WORDS.asked}</p>
            </>
          )}
        </div>
        {loaded !== null && page === null && removed === null ? <p>{LEDGER_WORDS.nobody}</p> : null}
        {page === null || removed !== null ? null : (
          <>
            <Facts page={page} interval={loaded?.interval ?? null} />
            <IntervalField
              key={loaded?.interval ?? 0}
              interval={loaded?.interval ?? null}
              onSave={async (days) => {
                if (await shelf.setInterval(days)) await load();
              }}
            />
            <p className="pair-note">{LEDGER_WORDS.pair}</p>
            {RIGS.map((rig) =>
              ROLES.map((role) => (
                <PersonSeriesView
                  key={`${rig} ${role}`}
                  role={role}
                  rig={rig}
                  series={page.rigs[rig][role]}
                  onDebrief={onDebrief}
                />
              )),
            )}
            {hasTwoTechniques(page) ? <p className="note">{CAUTIONS.technique}</p> : null}
            <PersonRemoval shelf={shelf} name={page.name} onRemoved={setRemoved} />
          </>
        )}
      </main>
    </div>
  );
}

function Facts({ page, interval }: { page: PersonPage; interval: number | null }): ReactElement {
  const { manikin, rhythm } = page.lastPractisedAt;
  const last = (at: string | null) => (at === null ? PERSON_WORDS.never : formatShortDay(at));
  const due = (days: number) => (manikin === null ? PERSON_WORDS.noManikin : formatDayAfter(manikin, days));
  return (
    <dl className="person-facts">
      <div>
        <dt>{PERSON_WORDS.drills}</dt>
        <dd>{page.drills}</dd>
      </div>
      <div>
        <dt>{PERSON_WORDS.notInTrend}</dt>
        <dd>{notInTrendWords(page.notInTrend)}</dd>
      </div>
      <div>
        <dt>{PERSON_WORDS.last}</dt>
        <dd>
          {RIG_WORDS.manikin}: {last(manikin)}; {RIG_WORDS.rhythm}: {last(rhythm)}
        </dd>
      </div>
      <div>
        <dt>{PERSON_WORDS.due}</dt>
        <dd>{interval === null ? PERSON_WORDS.noInterval : due(interval)}</dd>
      </div>
    </dl>
  );
}

type IntervalFieldProps = { interval: number | null; onSave: (days: number | null) => Promise<void> };
const MOST_DAYS = 3650;

function IntervalField({ interval, onSave }: IntervalFieldProps): ReactElement {
  const [days, setDays] = useState(interval);
  const [isWrong, setWrong] = useState(false);
  const save = (event: FormEvent) => {
    event.preventDefault();
    const isRight = days === null || (Number.isInteger(days) && days >= 1 && days <= MOST_DAYS);
    setWrong(!isRight);
    if (isRight) void onSave(days);
  };
  return (
    <form className="interval" onSubmit={save} noValidate>
      <NumberField label={PERSON_WORDS.interval} value={days} onChange={setDays} />
      <button type="submit" className="plain">
        {PERSON_WORDS.saveInterval}
      </button>
      <p className="problem" role="alert">
        {isWrong ? PERSON_WORDS.intervalWrong : null}
      </p>
    </form>
  );
}

function hasTwoTechniques({ rigs }: PersonPage): boolean {
  const points = RIGS.flatMap((rig) =>
    ROLES.flatMap((role) => [...rigs[rig][role].trend, ...rigs[rig][role].cold]),
  );
  return new Set(points.flatMap(({ techniques }) => techniques)).size > 1;
}
