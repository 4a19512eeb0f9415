import type { Bridge, OpenedDrill } from '../../electron/contract.ts';
import type { ChartEmitted } from '../../machines/drill-events.ts';
import type { InstructorKeys } from '../../machines/instructor-keys.ts';
import type { Switch } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import type { PlanCall } from '../../machines/plans/plan-calls.ts';
import type { Language } from '../../machines/words/languages.ts';
import type { DrillClock } from '../adapters/drill-clock.ts';
import type { SenderTrouble } from '../adapters/journal-sender.ts';
import type { SwitchSource } from '../switches/switch-source.ts';
import type { DrillAttendance } from './attendance.ts';
import type { CountKeeper } from './count-keeper.ts';
import type { CountJournal } from './station-sound.ts';

export type SessionParts = {
  opened: OpenedDrill;
  bridge: Pick<Bridge, 'appendLines' | 'onLinesWritten' | 'readDrill'>;
  clock: DrillClock;
  switches: SwitchSource;
  windowId: string;
  wait: (attempt: number) => Promise<void>;
  /** Does holding both switches begin and finish the drill? */
  isBegunByHolding?: boolean;
  /** Left out: as at first. */
  instructorKeys?: InstructorKeys;
  /** What the learners read; left out: English. */
  language?: Language;
  /** The hook for a spoken lead-in: both were held for 2 s; `begin` follows when they let go, `finish` has just been called. */
  onBothHeld?: (next: 'begin' | 'finish') => void;
  /** May this window make the calls of the drill's plan? Of a drill's windows, the one that gives the count does. */
  isPlanRunHere?: boolean;
  /** The plan warns of these calls, in the window that gives the count; with none, it does not any more. */
  onWarned?: (soon: readonly PlanCall[]) => void;
  /** The count of this drill; its lines are written by the session. */
  makeCount: (into: CountJournal) => Pick<CountKeeper, 'follow' | 'look'>;
  /** This window's part among several; left out where there is only one. */
  attendance?: DrillAttendance;
  /** What was written before this window came to the drill. */
  linesSoFar?: readonly NumberedLine[];
};

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
