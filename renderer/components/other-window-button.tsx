import type { ReactElement } from 'react';
import type { WindowRole } from '../../electron/contract.ts';
import { WINDOW_WORDS } from '../../machines/words/windows.ts';

/** Opens the station's other window; its key works wherever it is shown. */
export function OtherWindowButton({ from, onOpen }: { from: WindowRole; onOpen: () => void }): ReactElement {
  return (
    <button type="button" className="plain other-window" onClick={onOpen}>
      <span>{from === 'learners' ? WINDOW_WORDS.openInstructor : WINDOW_WORDS.openLearners}</span>{' '}
      <kbd>F2</kbd>
    </button>
  );
}
