import { type ReactElement, useEffect, useMemo, useState } from 'react';
import type { DrillText, Remark, Result } from '../../electron/contract.ts';
import { withoutNames } from '../../machines/names-left-out.ts';
import { CAUTIONS } from '../../machines/words/english.ts';
import { plannedSentence } from '../../machines/words/plan-words.ts';
import { rigCheckSentence } from '../../machines/words/rig-check.ts';
import { aboutDrill, DEBRIEF_WORDS, pairName } from '../../machines/words/screen-debrief.ts';
import { debriefOf } from '../app/debrief-data.ts';
import { Cautions } from '../components/cautions.tsx';
import { formatWhen } from '../components/when.ts';
import { DebriefFigures } from './debrief-figures.tsx';
import { DebriefFolded } from './debrief-folded.tsx';
import { holdBackRepeats } from './hold-back-repeats.ts';
import { Paper } from './paper.tsx';
import { PaperChoice, type PaperSettings } from './paper-choice.tsx';
import { useIsPrinting } from './use-is-printing.ts';

type DebriefProps = {
  text: DrillText;
  /** Adds remarks to the journal; answers with what is then on the disk. */
  onRemark: (remarks: readonly Remark[]) => Promise<Result<DrillText>>;
  onLeave: () => void;
  /** Without asking first: where nobody is there to be asked. */
  isShownAtOnce?: boolean;
};

/** They speak first; one key then shows the figures. */
export function Debrief({
  text: opened,
  onRemark,
  onLeave,
  isShownAtOnce = false,
}: DebriefProps): ReactElement {
  const [text, setText] = useState(opened);
  const [problem, setProblem] = useState<string | null>(null);
  const [isShown, setShown] = useState(isShownAtOnce);
  const [paper, setPaper] = useState<PaperSettings>({ size: 'a4', hasNames: true });
  const isPrinting = useIsPrinting();
  const data = useMemo(() => debriefOf(text), [text]);
  useEffect(holdBackRepeats, []);
  const remark = async (of: Remark) => {
    const written = await onRemark([of]);
    if (written.ok) setText(written.value);
    setProblem(written.ok ? null : DEBRIEF_WORDS.notWritten(written.message));
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
              <PaperChoice settings={paper} onChange={setPaper} onPrint={() => window.print()} />
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
