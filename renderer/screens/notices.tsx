import type { ReactElement } from 'react';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { FLOOR_WORDS } from '../../machines/words/screen-floor.ts';
import { PROBLEM_WORDS } from '../../machines/words/screens.ts';
import type { DrillSession, SessionStatus } from '../app/drill-session.ts';

type NoticesProps = {
  session: DrillSession;
  warnings: readonly string[];
  isClosing: boolean;
  nameOfKey: (code: string) => string;
};
/** A third key is spoken of for so long. */
const THIRD_KEY_SHOWN_MS = 10_000;

/** Whether all is saved, and what is wrong if not; what the switches did that is no press. */
export function Notices({ session, warnings, isClosing, nameOfKey }: NoticesProps): ReactElement {
  const { status, driver } = session;
  const thirdKey = latestThirdKey(driver.lines, session.clock.now());
  return (
    <div className="notices" role="status">
      <p className="quiet">{savedWords(status, isClosing)}</p>
      {status.trouble === null ? null : <p className="problem">{troubleWords(status)}</p>}
      {status.refusedLines === 0 ? null : (
        <p className="problem">{PROBLEM_WORDS.refused(status.refusedLines)}</p>
      )}
      {status.hasFocus ? null : <p className="problem">{FLOOR_WORDS.noFocus}</p>}
      {thirdKey === null ? null : <p>{FLOOR_WORDS.thirdKey(nameOfKey(thirdKey))}</p>}
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

function latestThirdKey(lines: readonly NumberedLine[], nowMs: number): string | null {
  const latest = lines.findLast(({ line }) => line.kind === 'device' && line.what === 'third-key')?.line;
  if (latest?.kind !== 'device' || nowMs - latest.at > THIRD_KEY_SHOWN_MS) return null;
  return latest.switch ?? '';
}
