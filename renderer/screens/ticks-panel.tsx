import type { ReactElement } from 'react';
import type { Technique } from '../../machines/journal.ts';
import { TICKS_WORDS, tickLabel, tickName } from '../../machines/words/tick-words.ts';
import type { TickKey } from '../adapters/key-uses.ts';
import { MORE_KEY, type TicksShown, type TickView, WHO_KEY } from '../app/tick-keys.ts';
import { KeyButton } from '../components/key-button.tsx';

type TicksPanelProps = {
  shown: TicksShown | null;
  view: TickView;
  technique: Technique;
  onPress: (key: TickKey, timeStampMs: number) => void;
};

/** What no switch can know, at most five at a time. */
export function TicksPanel({ shown, view, technique, onPress }: TicksPanelProps): ReactElement | null {
  if (shown === null) return null;
  const { choices, page, pages } = shown;
  return (
    <section className="ticks" aria-labelledby="ticks-title">
      <h2 id="ticks-title">
        {TICKS_WORDS.title} <span className="quiet">{TICKS_WORDS.note}</span>
      </h2>
      <div className="tick-keys">
        {choices.map(({ key, item, seen }) => (
          <KeyButton
            key={key}
            keyName={key}
            label={tickLabel(item, technique, seen)}
            isPossible
            onPress={(timeStampMs) => onPress(key, timeStampMs)}
          />
        ))}
        {pages > 1 ? (
          <KeyButton
            keyName={MORE_KEY}
            label={TICKS_WORDS.more(page + 1, pages)}
            isPossible
            onPress={(timeStampMs) => onPress(MORE_KEY, timeStampMs)}
          />
        ) : null}
        <KeyButton
          keyName={WHO_KEY}
          label={TICKS_WORDS.by[view.by]}
          isPossible
          onPress={(timeStampMs) => onPress(WHO_KEY, timeStampMs)}
        />
      </div>
      {choices.some(({ item }) => item === 'position') ? (
        <p className="note">
          {tickName('position', technique)}: {TICKS_WORDS.place}
        </p>
      ) : null}
    </section>
  );
}
