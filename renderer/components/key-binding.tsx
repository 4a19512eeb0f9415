import { type ReactElement, useEffect, useState } from 'react';
import { KEY_REFUSALS, SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { refusalOf } from '../adapters/key-uses.ts';

type KeyBindingProps = {
  label: string;
  code: string;
  otherCode: string;
  nameOf: (code: string) => string;
  onBind: (code: string) => void;
};

/** A key is bound by pressing it. A key that cannot be taken is refused with the reason, and the next one is awaited. */
export function KeyBinding({ label, code, otherCode, nameOf, onBind }: KeyBindingProps): ReactElement {
  const [isListening, setListening] = useState(false);
  const [refusal, setRefusal] = useState<string | null>(null);
  useEffect(() => {
    if (!isListening) return;
    const down = (event: KeyboardEvent) => {
      if (event.code === 'Tab') return setListening(false);
      event.preventDefault();
      event.stopPropagation();
      if (event.repeat) return;
      if (event.code === 'Escape') return setListening(false);
      const problem = event.code === otherCode ? 'taken' : refusalOf(event.code);
      if (problem !== null) return setRefusal(KEY_REFUSALS[problem]);
      onBind(event.code);
      setListening(false);
    };
    window.addEventListener('keydown', down, { capture: true });
    return () => window.removeEventListener('keydown', down, { capture: true });
  }, [isListening, otherCode, onBind]);
  const listen = () => {
    setRefusal(null);
    setListening(true);
  };
  return (
    <div className="key-binding">
      <span className="key-binding-label">{label}</span>
      <kbd className="keycap">{nameOf(code)}</kbd>
      <button type="button" className="plain" aria-pressed={isListening} onClick={listen}>
        {isListening ? SET_UP_WORDS.pressNow(label) : SET_UP_WORDS.change}
        <span className="unseen">{isListening ? '' : ` ${label}`}</span>
      </button>
      <span className="refusal" role="status">
        {refusal}
      </span>
    </div>
  );
}
