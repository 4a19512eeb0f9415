import type { Decision } from '../journal.ts';
import type { Signature } from '../scoring/report.ts';

/** What an instructor decides; the tool decides nothing. */
export const DECISION_WORDS: Record<Decision, string> = {
  met: 'met',
  'not yet': 'not yet met',
  'not assessed': 'not assessed',
};

/** "Signed by …, 2026-03-02 10:04 UTC: the standard “…” is met." Null while nobody has signed. */
export function signatureSentence(signature: Signature | null): string | null {
  if (signature === null) return null;
  const { by, signedAt, standard, decision } = signature;
  const when = `${signedAt.slice(0, 10)} ${signedAt.slice(11, 16)} UTC`;
  return `Signed by ${by}, ${when}: the standard “${standard}” is ${DECISION_WORDS[decision]}.`;
}
