import type { ReactElement } from 'react';
import { deviceNotices } from '../../machines/words/device-notices.ts';
import { uncheckedNotice } from '../../machines/words/rig-check.ts';
import { FLOOR_WORDS } from '../../machines/words/screen-floor.ts';
import { PROBLEM_WORDS } from '../../machines/words/screens.ts';
import type { DrillSession } from '../app/drill-session.ts';
import type { SessionStatus } from '../app/session-parts.ts';

type NoticesProps = {
  session: DrillSession;
  warnings: readonly string[];
  isClosing: boolean;
  nameOfKey: (code: string) => string;
};

/** Whether all is saved, and what is wrong if not; what the switches did that is no press. */
export function Notices({ session, warnings, isClosing, nameOfKey }: NoticesProps): ReactElement {
  const { status, driver } = session;
  const { open } = session.opened;
  const unchecked = uncheckedNotice(open, driver.snapshot.context.called);
  const devices = deviceNotices(open, driver.lines, session.clock.now(), nameOfKey);
  return (
    <div className="notices" role="status">
      <p className="quiet">{savedWords(status, isClosing)}</p>
      {status.trouble === null ? null : <p className="problem">{troubleWords(status)}</p>}
      {status.refusedLines === 0 ? null : (
        <p className="problem">{PROBLEM_WORDS.refused(status.refusedLines)}</p>
      )}
      {status.hasFocus ? null : <p className="problem">{FLOOR_WORDS.noFocus}</p>}
      {unchecked === null ? null : <p>{unchecked}</p>}
      {devices.map((notice) => (
        <p key={notice}>{notice}</p>
      ))}
      {warnings.map((warning) => (
        <p key={warning}>{warning}</p>
      ))}
    </div>
  );
}

function savedWords({ trouble, isSaving }: SessionStatus, isClosing: boolean): string {
  if (isClosing) return FLOOR_WORDS.closing;
  if (trouble !== null) return '';
  return isSaving ? FLOOR_WORDS.saving : FLOOR_WORDS.saved;
}

function troubleWords({ trouble }: SessionStatus): string {
  if (trouble === null) return '';
  const { failure, refused } = trouble;
  return refused.length === 0
    ? PROBLEM_WORDS.troubleSaving(failure.message)
    : PROBLEM_WORDS.troubleEnded(failure.message);
}
