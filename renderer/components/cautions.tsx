import type { ReactElement } from 'react';
import type { Rig } from '../../machines/journal.ts';
import { CAUTIONS } from '../../machines/words/english.ts';
import { HelpButton } from './help-button.tsx';

/** What every page says: what this is for, and what it is not. */
export function Cautions({ rig }: { rig: Rig }): ReactElement {
  return (
    <p className="cautions">
      {rig === 'rhythm' ? `${CAUTIONS.rhythm} ` : ''}
      {CAUTIONS.newlyBorn} {CAUTIONS.purpose} <HelpButton />
    </p>
  );
}
