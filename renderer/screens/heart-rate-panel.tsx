import type { ReactElement } from 'react';
import { type RateEntry, wayNow } from '../../machines/heart-rate.ts';
import { type InstructorKey, KEYS_AS_AT_FIRST } from '../../machines/instructor-keys.ts';
import type { HeartRateWay } from '../../machines/journal.ts';
import { RATE_WAY_WORDS, RATE_WORDS } from '../../machines/words/heart-rate-words.ts';
import { instructorKeyName } from '../adapters/key-uses.ts';
import { KeyButton } from '../components/key-button.tsx';

type HeartRatePanelProps = {
  entry: RateEntry;
  ways: readonly HeartRateWay[];
  isChecking: boolean;
  nameOfKey: (code: string) => string;
  onKey: (key: InstructorKey) => void;
  onGive: (timeStampMs: number) => void;
  onLeave: () => void;
};

/** A number to type or step to, and how to give it. Enter gives it, and nothing else does. */
export function HeartRatePanel(props: HeartRatePanelProps): ReactElement {
  const { entry, ways, isChecking, nameOfKey, onKey, onGive, onLeave } = props;
  const way = wayNow(entry, ways);
  const key = (of: InstructorKey, label: string) => (
    <KeyButton
      keyName={instructorKeyName(of, nameOfKey, KEYS_AS_AT_FIRST)}
      label={label}
      isPossible
      onPress={() => onKey(of)}
    />
  );
  return (
    <section className="heart-rate" aria-labelledby="heart-rate-title">
      <h3 id="heart-rate-title">{RATE_WORDS.title}</h3>
      <output className="heart-rate-number">
        <b>{entry.bpm}</b>, {RATE_WAY_WORDS[way]}
      </output>
      {isChecking ? null : <p className="note">{RATE_WORDS.onlyIfAsked}</p>}
      <p className="note">{RATE_WORDS.digits}</p>
      <div className="floor-keys">
        <KeyButton keyName="Enter" label={RATE_WORDS.give} isPossible onPress={onGive} />
        {ways.length > 1 ? key('*', RATE_WORDS.way(way)) : null}
        {key('-', RATE_WORDS.less)}
        {key('=', RATE_WORDS.more)}
        {key('/', RATE_WORDS.erase)}
        <KeyButton keyName="Esc" label={RATE_WORDS.leave} isPossible onPress={onLeave} />
      </div>
    </section>
  );
}
