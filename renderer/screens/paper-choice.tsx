import type { ReactElement } from 'react';
import { PAPER_WORDS, type PaperSize } from '../../machines/words/paper-words.ts';
import { Choice, optionsOf } from '../components/choice.tsx';
import { Folded } from '../components/folded.tsx';

export type PaperSettings = { size: PaperSize; hasNames: boolean };

type PaperChoiceProps = {
  settings: PaperSettings;
  onChange: (settings: PaperSettings) => void;
  onPrint: () => void;
};

/** What goes on paper, and the button that prints it. */
export function PaperChoice({ settings, onChange, onPrint }: PaperChoiceProps): ReactElement {
  return (
    <Folded title={PAPER_WORDS.title}>
      <p className="note">{PAPER_WORDS.note}</p>
      <div className="paper-choice">
        <Choice
          legend={PAPER_WORDS.size}
          name="paper-size"
          options={optionsOf(PAPER_WORDS.sizes)}
          value={settings.size}
          onChange={(size) => onChange({ ...settings, size })}
        />
        <label>
          <input
            type="checkbox"
            checked={!settings.hasNames}
            onChange={(event) => onChange({ ...settings, hasNames: !event.target.checked })}
          />{' '}
          {PAPER_WORDS.namesOut}
        </label>
        <button type="button" className="plain" onClick={onPrint}>
          {PAPER_WORDS.print}
        </button>
      </div>
      <p className="note">{PAPER_WORDS.namesOutNote}</p>
    </Folded>
  );
}
