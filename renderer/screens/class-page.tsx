import { type ReactElement, useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import type { Result } from '../../electron/contract.ts';
import { type ClassFile, stateOf } from '../../machines/class/class-file.ts';
import type { Group } from '../../machines/class/turn.ts';
import { turnsToCome } from '../../machines/class/turns.ts';
import { CLASS_WORDS } from '../../machines/words/class-words.ts';
import { PAPER_WORDS, type PaperSize } from '../../machines/words/paper-words.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';
import type { ClassShelf } from '../app/class-shelf.ts';
import { ClassBody } from './class-body.tsx';
import { ClassPaper } from './class-paper.tsx';
import { useIsPrinting } from './use-is-printing.ts';

/** Asks where, and saves what would be printed there as a PDF. */
export type SavePaper = (fileName: string) => Promise<Result<{ path: string | null }>>;

type ClassPageProps = {
  shelf: ClassShelf;
  /** Left out where the browser prints. */
  onSavePaper?: SavePaper;
  /** Two of the class go to Set-up, with their roles. */
  onTake: (group: Group) => void;
  onBack: () => void;
};

/** The day's class: who is here, who does what now, and what is still to come. */
export function ClassPage({ shelf, onSavePaper, onTake, onBack }: ClassPageProps): ReactElement {
  useSyncExternalStore(shelf.subscribe, () => shelf.version);
  const [news, setNews] = useState<readonly string[]>([]);
  const [paper, setPaper] = useState<PaperSize>('a4');
  const [paperProblem, setPaperProblem] = useState<string | null>(null);
  const isPrinting = useIsPrinting();
  useEffect(() => void shelf.load(), [shelf]);
  const { stored } = shelf;
  const plan = useMemo(() => (stored === null ? null : turnsToCome(stateOf(stored))), [stored]);
  const change = (after: ClassFile, said: readonly string[] = []) => {
    shelf.change(after);
    setNews(said);
  };
  const savePaper = async (save: SavePaper) => {
    const saved = await save('class.pdf');
    setPaperProblem(saved.ok ? null : PAPER_WORDS.notSaved(saved.message));
  };
  return (
    <main className="class-page">
      <header>
        <div className="class-head">
          <h1>{CLASS_WORDS.title}</h1>
          <button type="button" className="plain" onClick={onBack}>
            {CLASS_PAGE_WORDS.back}
          </button>
          {stored === null || stored.people.length === 0 ? null : (
            <NewClass onNew={() => change({ ...stored, people: [], done: [] })} />
          )}
        </div>
        {plan?.limit === 'nobody' ? <p className="quiet">{CLASS_PAGE_WORDS.intro}</p> : null}
        <p className="problem" role="alert">
          {shelf.saveProblem === null ? paperProblem : CLASS_PAGE_WORDS.notSaved(shelf.saveProblem)}
        </p>
        <div role="status">
          {news.map((one) => (
            <p key={one}>{one}</p>
          ))}
        </div>
      </header>
      {stored === null || plan === null ? (
        <NoClass problem={shelf.loadProblem} onAgain={() => void shelf.load()} />
      ) : (
        <ClassBody
          stored={stored}
          plan={plan}
          readUnled={shelf.readUnled}
          paper={paper}
          onPaper={setPaper}
          {...(onSavePaper === undefined ? {} : { onSave: () => void savePaper(onSavePaper) })}
          onChange={change}
          onTake={onTake}
        />
      )}
      {isPrinting && plan !== null && plan.turns.length > 0 ? <ClassPaper plan={plan} size={paper} /> : null}
    </main>
  );
}

function NewClass({ onNew }: { onNew: () => void }): ReactElement {
  const [isAsking, setAsking] = useState<boolean | null>(null);
  if (isAsking !== true) {
    return (
      // biome-ignore lint/a11y/noAutofocus: only after the question was answered with no, where the keys were before it
      <button type="button" className="plain" autoFocus={isAsking === false} onClick={() => setAsking(true)}>
        {CLASS_PAGE_WORDS.newClass}
      </button>
    );
  }
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is for fields, and this is a question
    <div className="plan-actions" role="group" aria-label={CLASS_PAGE_WORDS.newAsk}>
      <span>{CLASS_PAGE_WORDS.newAsk}</span>
      {/* biome-ignore lint/a11y/noAutofocus: the question was asked for just now, and its answer is the next key */}
      <button type="button" className="plain" autoFocus onClick={() => setAsking(false)}>
        {CLASS_PAGE_WORDS.newNo}
      </button>
      <button type="button" className="plain" onClick={onNew}>
        {CLASS_PAGE_WORDS.newYes}
      </button>
    </div>
  );
}

function NoClass({ problem, onAgain }: { problem: string | null; onAgain: () => void }): ReactElement {
  if (problem === null) return <p className="quiet">{CLASS_PAGE_WORDS.opening}</p>;
  return (
    <>
      <p className="problem" role="alert">
        {CLASS_PAGE_WORDS.notOpened(problem)}
      </p>
      <button type="button" className="primary" onClick={onAgain}>
        {CLASS_PAGE_WORDS.again}
      </button>
    </>
  );
}
