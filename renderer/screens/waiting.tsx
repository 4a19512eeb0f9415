import type { ReactElement } from 'react';
import { WINDOW_WORDS } from '../../machines/words/windows.ts';
import { HelpButton } from '../components/help-button.tsx';
import { OtherWindowButton } from '../components/other-window-button.tsx';

/** The learners' window while no drill runs. */
export function Waiting({ onOtherWindow }: { onOtherWindow: () => void }): ReactElement {
  return (
    <main className="message-page">
      <h1>{WINDOW_WORDS.waitingTitle}</h1>
      <p>{WINDOW_WORDS.waiting}</p>
      <p>
        <OtherWindowButton from="learners" onOpen={onOtherWindow} />
      </p>
      <p>
        <HelpButton />
      </p>
    </main>
  );
}
