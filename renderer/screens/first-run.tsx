import { type ReactElement, useEffect, useRef, useState } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { ALL_CAUTIONS, FIRST_RUN_WORDS } from '../../machines/words/help-words.ts';
import { SCREEN_WORDS } from '../../machines/words/screens.ts';
import { holdBackRepeats } from './hold-back-repeats.ts';

type FirstRunProps = {
  /** After the cautions; null where the station has been used before. */
  walk: ((onLeave: () => void) => ReactElement) | null;
  /** Answers with what the station remembers from now on. */
  onRead: () => StationSettings;
  onDone: (settings: StationSettings) => void;
};

/** Before anything else on a new station: what this is for, and what it is not; then, if wanted, how it goes. */
export function FirstRun({ walk, onRead, onDone }: FirstRunProps): ReactElement {
  const [read, setRead] = useState<StationSettings | null>(null);
  if (read !== null && walk !== null) return walk(() => onDone(read));
  const understood = () => {
    const settings = onRead();
    if (walk === null) onDone(settings);
    else setRead(settings);
  };
  return <CautionsPage onUnderstood={understood} />;
}

function CautionsPage({ onUnderstood }: { onUnderstood: () => void }): ReactElement {
  const understood = useRef<HTMLButtonElement>(null);
  // Its key works at once, but the first caution is what a small window shows.
  useEffect(() => understood.current?.focus({ preventScroll: true }), []);
  useEffect(holdBackRepeats, []);
  return (
    <main className="first-run">
      <h1>
        {SCREEN_WORDS.product} <span className="quiet">{FIRST_RUN_WORDS.title}</span>
      </h1>
      <ul className="help-points">
        {ALL_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p className="quiet">{FIRST_RUN_WORDS.after}</p>
      <button type="button" className="primary" ref={understood} onClick={onUnderstood}>
        {FIRST_RUN_WORDS.understood} <kbd>Enter</kbd>
      </button>
    </main>
  );
}
