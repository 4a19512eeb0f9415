import { type ReactElement, useState } from 'react';
import { FLOOR_WORDS } from '../../machines/words/screen-floor.ts';

type FinishedPanelProps = { isClosing: boolean; onClose: (timeStampMs: number) => void };

/** After a finish: it can still be undone, until the drill is closed. */
export function FinishedPanel({ isClosing, onClose }: FinishedPanelProps): ReactElement {
  return (
    <div className="finished-panel">
      <p>{FLOOR_WORDS.finishedNote}</p>
      <button
        type="button"
        className="primary"
        aria-disabled={isClosing}
        onClick={(event) => {
          if (!isClosing) onClose(event.nativeEvent.timeStamp);
        }}
      >
        {isClosing ? FLOOR_WORDS.closing : FLOOR_WORDS.closeAndDebrief} <kbd>Enter</kbd>
      </button>
    </div>
  );
}

type LeaveDrillProps = { isClosing: boolean; onLeave: (timeStampMs: number) => void };

/** Leaving in the middle is asked once: the journal is closed without a finish, and kept as what it is. */
export function LeaveDrill({ isClosing, onLeave }: LeaveDrillProps): ReactElement {
  const [isAsking, setAsking] = useState(false);
  if (isClosing) return <p className="quiet">{FLOOR_WORDS.closing}</p>;
  if (!isAsking) {
    return (
      <button type="button" className="plain leave" onClick={() => setAsking(true)}>
        {FLOOR_WORDS.leave}
      </button>
    );
  }
  return (
    // biome-ignore lint/a11y/useSemanticElements: a dialog element would take the focus trap and the keys with it
    <div className="leave-question" role="group" aria-label={FLOOR_WORDS.leave}>
      <p>{FLOOR_WORDS.leaveAsk}</p>
      <button
        type="button"
        className="plain"
        // biome-ignore lint/a11y/noAutofocus: the question was asked for just now, and its answer is the next key
        autoFocus
        onClick={() => setAsking(false)}
      >
        {FLOOR_WORDS.leaveNo}
      </button>
      <button type="button" className="plain" onClick={(event) => onLeave(event.nativeEvent.timeStamp)}>
        {FLOOR_WORDS.leaveYes}
      </button>
    </div>
  );
}
