import type { OpenLine, SwitchOffsetRecord } from '../journal.ts';
import type { Ms } from '../units.ts';
import type { SwitchCheck } from './switch-check.ts';

/** What of a check goes into a drill's open line; the source's own `kind` is not the check's to say. */
export type JournalFields = {
  sources: Record<string, { stepMs?: Ms; bounceMs?: Ms }>;
  switchOffset?: SwitchOffsetRecord;
  bounceMs?: OpenLine['bounceMs'];
};

/** Has a check found anything that a drill can use? */
export function isAnythingFound({ switches, offset }: SwitchCheck): boolean {
  return 'n' in offset || switches.some(({ step, bounce }) => 'stepMs' in step || 'longestMs' in bounce);
}

/** A check's results as the journal keeps them, in ms with at most three decimals; what was not found is not there. */
export function journalFieldsOf(check: SwitchCheck, isOffsetApplied: boolean): JournalFields {
  const { offset, bounceLimitMs } = check;
  return {
    sources: Object.fromEntries(
      check.switches.map(({ name, step, bounce }) => [
        name,
        {
          ...('stepMs' in step ? { stepMs: rounded(step.stepMs) } : {}),
          ...('longestMs' in bounce ? { bounceMs: rounded(bounce.longestMs) } : {}),
        },
      ]),
    ),
    ...('n' in offset
      ? {
          switchOffset: {
            medianMs: rounded(offset.medianMs),
            spreadMs: rounded(offset.spreadMs),
            errorMs: rounded(offset.errorMs),
            n: offset.n,
            applied: isOffsetApplied,
          },
        }
      : {}),
    ...(typeof bounceLimitMs === 'number' ? { bounceMs: bounceLimitMs } : {}),
  };
}

function rounded(ms: Ms): Ms {
  return Math.round(ms * 1000) / 1000;
}
