import type { ChartEmitted } from '../../machines/drill-events.ts';
import type { Switch } from '../../machines/journal.ts';
import type { SenderTrouble } from '../adapters/journal-sender.ts';

/** What the window itself knows of the drill: never part of a figure. */
export type SessionStatus = {
  trouble: SenderTrouble | null;
  /** Lines that are never to be saved. */
  refusedLines: number;
  isSaving: boolean;
  hasFocus: boolean;
  held: ReadonlySet<Switch>;
  /** Both were held for 2 s, and the drill begins when they are let go. */
  isLetGoAwaited: boolean;
  lastSaid: ChartEmitted | null;
};
