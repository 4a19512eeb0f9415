import type { ReactElement, ReactNode } from 'react';
import { RATE_WORDS } from '../../machines/words/heart-rate-words.ts';
import type { LearnersWords } from '../../machines/words/languages.ts';
import { FLOOR_WORDS } from '../../machines/words/screen-floor.ts';
import type { LearnersView } from '../app/learners-view.ts';
import { Count } from './count.tsx';

type LearnersFloorProps = {
  view: LearnersView;
  /** The learners' own language; the rest of the page is the instructor's. */
  words: LearnersWords;
  /** What the plan says to them before it begins; empty: nothing. */
  planWords: string;
  /** What the plan is about to call; empty: nothing. */
  soon: string;
  now: () => number;
  isFinished: boolean;
  /** The instructor is entering a heart rate: keys are digits. */
  isEntering: boolean;
  /** What the key that changes the view is called. */
  viewKey: string;
  isClosing: boolean;
  trouble: string | null;
  onView: () => void;
  onClose: (timeStampMs: number) => void;
  /** Opens the other window, where that can be done. */
  other: ReactNode;
};

/** Almost nothing: their eyes belong on the chest and on each other. */
export function LearnersFloor(props: LearnersFloorProps): ReactElement {
  const { view, words: language, planWords, soon, now, isFinished, isEntering, viewKey } = props;
  const { isClosing, trouble, onView, onClose, other } = props;
  return (
    <main className="learners">
      <h1 className="unseen">{FLOOR_WORDS.learners}</h1>
      <div className="learners-centre" lang={language.code}>
        {view.count === null ? null : <Count order={view.count} now={now} words={language} />}
        {view.words.map((word) => (
          <p className="called" key={word}>
            {word}
          </p>
        ))}
        {view.quiet.map((words) => (
          <p className="places" key={words}>
            {words}
          </p>
        ))}
        {planWords === '' ? null : <p className="plan-words">{planWords}</p>}
      </div>
      <p className="hint" lang={language.code}>
        {soon === '' ? view.hint : soon}
      </p>
      <footer>
        {trouble === null ? null : <span className="problem">{trouble}</span>}
        {isEntering ? <span>{RATE_WORDS.open}</span> : null}
        {isFinished ? (
          <button type="button" className="plain" onClick={(event) => onClose(event.nativeEvent.timeStamp)}>
            <span>{isClosing ? FLOOR_WORDS.closing : FLOOR_WORDS.closeAndDebrief}</span> <kbd>Enter</kbd>
          </button>
        ) : null}
        {other}
        <button type="button" className="plain" onClick={onView}>
          <span>{FLOOR_WORDS.toInstructor}</span> <kbd>{viewKey}</kbd>
        </button>
      </footer>
    </main>
  );
}
