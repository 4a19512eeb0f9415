import { type ReactElement, useEffect, useMemo, useRef, useState } from 'react';
import type { DrillText, Remark, Result } from '../../electron/contract.ts';
import { withoutNames } from '../../machines/names-left-out.ts';
import { CAUTIONS } from '../../machines/words/english.ts';
import { PAPER_WORDS } from '../../machines/words/paper-words.ts';
import { plannedSentence } from '../../machines/words/plan-words.ts';
import { rigCheckSentence } from '../../machines/words/rig-check.ts';
import { aboutDrill, DEBRIEF_WORDS, pairName } from '../../machines/words/screen-debrief.ts';
import { debriefOf } from '../app/debrief-data.ts';
import type { StandardShelf } from '../app/standard-shelf.ts';
import { Cautions } from '../components/cautions.tsx';
import { formatWhen } from '../components/when.ts';
import { DebriefFigures } from './debrief-figures.tsx';
import { DebriefFolded } from './debrief-folded.tsx';
import { DebriefStandard } from './debrief-standard.tsx';
import { holdBackRepeats } from './hold-back-repeats.ts';
import { Paper } from './paper.tsx';
import { PaperChoice, type PaperSettings } from './paper-choice.tsx';
import { useIsPrinting } from './use-is-printing.ts';

type DebriefProps = {
  text: DrillText;
  /** Adds remarks to the journal; answers with what is then on the disk. */
  onRemark: (remarks: readonly Remark[]) => Promise<Result<DrillText>>;
  /** Saves what would be printed as a PDF; left out where the browser prints. */
  onSavePaper?: (fileName: string) => Promise<Result<{ path: string | null }>>;
  /** The courses' standards that the station has. */
  standards: StandardShelf;
  onLeave: () => void;
  /** Without asking first: where nobody is there to be asked. */
  isShownAtOnce?: boolean;
};

/** They speak first; one key then shows the figures. */
export function Debrief(props: DebriefProps): ReactElement {
  const { text: opened, onRemark, onSavePaper, standards, onLeave, isShownAtOnce = false } = props;
  const [text, setText] = useState(opened);
  const [problem, setProblem] = useState<string | null>(null);
  const [isShown, setShown] = useState(isShownAtOnce);
  const [paper, setPaper] = useState<PaperSettings>({ size: 'a4', hasNames: true });
  const isPrinting = useIsPrinting();
  const data = useMemo(() => debriefOf(text), [text]);
  useEffect(holdBackRepeats, []);
  const isWriting = useRef(false);
  const remark = async (of: Remark) => {
    // What is asked again before the answer was asked of what is still shown, not of what then stands there.
    if (isWriting.current) return;
    isWriting.current = true;
    const written = await onRemark([of]);
    isWriting.current = false;
    if (written.ok) setText(written.value);
    setProblem(written.ok ? null : DEBRIEF_WORDS.notWritten(written.message));
  };
  const savePaper = async (save: NonNullable<DebriefProps['onSavePaper']>) => {
    const saved = await save(`drill-${text.drillId.slice(0, 8)}.pdf`);
    setProblem(saved.ok ? null : PAPER_WORDS.notSaved(saved.message));
  };
  const planned = plannedSentence(text.open);
  const rigCheck = rigCheckSentence(text.open, data.report.bouts, formatWhen);
  return (
    <div className="debrief">
      <header>
        <h1>
          {DEBRIEF_WORDS.title} <span className="quiet">{pairName(text.open.people)}</span>
        </h1>
        <p className="note">{aboutDrill(formatWhen(text.open.openedAt), text.open)}</p>
        {planned === null ? null : <p className="note">{planned}</p>}
        {rigCheck === null ? null : <p className="note">{rigCheck}</p>}
      </header>
      <main>
        {isShown ? (
          <>
            <DebriefFigures
              data={data}
              onLeaveOut={(startMs, missed) => void remark({ kind: 'mark', row: startMs, missed })}
            />
            <p className="problem" role="alert">
              {problem}
            </p>
            <DebriefFolded data={data}>
              <DebriefStandard
                data={data}
                shelf={standards}
                onSign={(signing) => void remark({ kind: 'signature', ...signing })}
              />
              <PaperChoice
                settings={paper}
                onChange={setPaper}
                onPrint={() => window.print()}
                {...(onSavePaper === undefined ? {} : { onSave: () => void savePaper(onSavePaper) })}
              />
            </DebriefFolded>
            <button type="button" className="primary" onClick={onLeave}>
              {DEBRIEF_WORDS.done}
            </button>
          </>
        ) : (
          <section className="ask-first">
            <p className="ask">{CAUTIONS.askFirst}</p>
            <p className="quiet">{DEBRIEF_WORDS.askNote}</p>
            {/* biome-ignore lint/a11y/noAutofocus: the page has one thing to do, and one key for it */}
            <button type="button" className="primary" autoFocus onClick={() => setShown(true)}>
              {DEBRIEF_WORDS.show} <kbd>Enter</kbd>
            </button>
          </section>
        )}
      </main>
      <footer>
        <Cautions rig={text.open.rig} />
      </footer>
      {isPrinting && isShown ? (
        <Paper data={paper.hasNames ? data : debriefOf(withoutNames(text))} size={paper.size} />
      ) : null}
    </div>
  );
}
