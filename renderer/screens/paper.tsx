import { type ReactElement, type ReactNode, useMemo } from 'react';
import { PERSONS, type Person } from '../../machines/journal.ts';
import { sheetPages } from '../../machines/sheet-pages.ts';
import { CAUTIONS } from '../../machines/words/english.ts';
import { headlineOf } from '../../machines/words/headline.ts';
import { PAPER_WORDS, type PaperSize } from '../../machines/words/paper-words.ts';
import { aboutDrill, boutTitle, DEBRIEF_WORDS, pairName } from '../../machines/words/screen-debrief.ts';
import { signatureSentences } from '../../machines/words/signature-words.ts';
import { tickSentences } from '../../machines/words/tick-words.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { Cautions } from '../components/cautions.tsx';
import { formatWhen } from '../components/when.ts';
import { Sheet } from '../sheet/sheet.tsx';
import { AdviceFor, DebriefAdvice } from './debrief-advice.tsx';
import { Handovers } from './debrief-folded.tsx';
import { LearnerPage } from './learner-page.tsx';

type PaperProps = { data: DebriefData; size: PaperSize };

/** So many units of a sheet's height fit on a page below its title, at the width of either paper; Letter is the shorter. */
const SHEET_HEIGHT: Record<PaperSize, number> = { a4: 1320, letter: 1170 };

/** The drill on paper: a page for the pair with a line to sign, the sheet on as many as it takes, a page for each learner. */
export function Paper({ data, size }: PaperProps): ReactElement {
  const { report, rows, open } = data;
  const sheets = useMemo(
    () => sheetPages({ report, rows, tolerance: open.tolerance }, SHEET_HEIGHT[size]),
    [report, rows, open, size],
  );
  return (
    <div className="paper" data-size={size}>
      <PairPage data={data} />
      {sheets.map((drawing, page) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a page has no name but its number
        <Page key={page} data={data} title={PAPER_WORDS.sheet(page + 1, sheets.length)}>
          <Sheet drawing={drawing} label={PAPER_WORDS.sheet(page + 1, sheets.length)} />
        </Page>
      ))}
      {PERSONS.map((person) => (
        <ForLearner key={person} data={data} person={person} />
      ))}
    </div>
  );
}

function PairPage({ data }: { data: DebriefData }): ReactElement {
  const { report, rows, open } = data;
  return (
    <Page data={data} title={PAPER_WORDS.report}>
      <p className="headline">{headlineOf(report, rows)}</p>
      <DebriefAdvice data={data} />
      {data.hasTwoTechniques ? <p>{CAUTIONS.technique}</p> : null}
      <div className="sign">
        <p>{PAPER_WORDS.sign}</p>
        {signatureSentences(report.drill).map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <ul>
          {PAPER_WORDS.signLine.map((what) => (
            <li key={what}>{what}</li>
          ))}
        </ul>
      </div>
      {open.rig === 'rhythm' ? null : <PaperTicks data={data} />}
      <h2>{DEBRIEF_WORDS.handovers}</h2>
      <Handovers data={data} />
    </Page>
  );
}

function PaperTicks({ data }: { data: DebriefData }): ReactElement {
  return (
    <>
      {data.report.bouts.map((bout, index) => (
        <section key={bout.startMs}>
          <h2>{boutTitle(bout, index, data.open.people)}</h2>
          <p>{tickSentences(bout).join(' · ')}</p>
        </section>
      ))}
    </>
  );
}

function ForLearner({ data, person }: { data: DebriefData; person: Person }): ReactElement {
  const { report, rows, open } = data;
  return (
    <Page data={data} title={PAPER_WORDS.learner(open.people[person])}>
      <p className="headline">{headlineOf(report, rows)}</p>
      <AdviceFor data={data} person={person} />
      <LearnerPage data={data} person={person} />
    </Page>
  );
}

type PageProps = { data: DebriefData; title: string; children: ReactNode };

function Page({ data, title, children }: PageProps): ReactElement {
  const { open } = data;
  return (
    <article>
      <header>
        <h1>
          {title} <span className="quiet">{pairName(open.people)}</span>
        </h1>
        <p className="note">{aboutDrill(formatWhen(open.openedAt), open)}</p>
      </header>
      <div>{children}</div>
      <footer>
        <Cautions rig={open.rig} />
      </footer>
    </article>
  );
}
