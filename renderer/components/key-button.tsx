import type { MouseEvent, ReactElement } from 'react';

type KeyButtonProps = {
  keyName: string;
  label: string;
  isPossible: boolean;
  onPress: (timeStampMs: number) => void;
};

/** What a key does, as a button too. One that does nothing now keeps its place and its focus. */
export function KeyButton({ keyName, label, isPossible, onPress }: KeyButtonProps): ReactElement {
  const press = (event: MouseEvent) => {
    if (isPossible) onPress(event.nativeEvent.timeStamp);
  };
  return (
    <button type="button" className="key-button" aria-disabled={!isPossible} onClick={press}>
      <kbd className="keycap">{keyName}</kbd> <span>{label}</span>
    </button>
  );
}
