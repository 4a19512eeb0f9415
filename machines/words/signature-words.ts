import { type Decision, PERSONS } from '../journal.ts';
import type { DrillSummary, Signature } from '../scoring/report.ts';

/** What an instructor decides; the tool decides nothing. */
export const DECISION_WORDS: Record<Decision, string> = {
  met: 'met',
  'not yet': 'not yet met',
  'not assessed': 'not assessed',
};

/** What the instructor signed, a sentence for each person signed for. */
export function signatureSentences({
  signatures,
  people,
}: Pick<DrillSummary, 'signatures' | 'people'>): string[] {
  return PERSONS.flatMap((person) => signatureSentence(signatures[person], people[person].name) ?? []);
}

/** "Signed for … by …, 2026-03-02 10:04 UTC: the standard “…” is met." Null while nobody has signed. */
export function signatureSentence(signature: Signature | null, name: string): string | null {
  if (signature === null) return null;
  const { by, signedAt, standard, decision } = signature;
  const when = `${signedAt.slice(0, 10)} ${signedAt.slice(11, 16)} UTC`;
  return `Signed for ${name} by ${by}, ${when}: the standard “${standard}” is ${DECISION_WORDS[decision]}.`;
}
