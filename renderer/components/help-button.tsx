import { type ReactElement, useContext } from 'react';
import { HELP_KEY, HELP_WORDS } from '../../machines/words/help-words.ts';
import { HelpOpening } from './help-opening.ts';

/** Opens cautions and help; nothing where there are none to open. */
export function HelpButton(): ReactElement | null {
  const open = useContext(HelpOpening);
  if (open === null) return null;
  return (
    <button type="button" className="plain help-button" onClick={open}>
      <span>{HELP_WORDS.open}</span> <kbd>{HELP_KEY}</kbd>
    </button>
  );
}
