import type { BodyLine, OpenLine } from './journal.ts';
import type { Journal } from './journal-reader.ts';

/** Who signed, when nobody is named. */
const UNNAMED = 'instructor';

/**
 * The same drill without anybody's name: the two are A and B, and whatever people may have written freely (notes, the
 * plan with its words, what a torn line had in it, who signed) is gone. No figure changes, since none depends on any of it.
 */
export function withoutNames<J extends Pick<Journal, 'open' | 'lines'>>(journal: J): J {
  const { plan: _plan, ...open } = journal.open;
  const people: OpenLine['people'] = { A: 'A', B: 'B' };
  return {
    ...journal,
    open: { ...open, people },
    lines: journal.lines.map(({ number, line }) => ({ number, line: withoutText(line) })),
  };
}

function withoutText(line: BodyLine): BodyLine {
  if (line.kind === 'note' || line.kind === 'recovered') return { ...line, text: '' };
  return line.kind === 'signature' ? { ...line, by: UNNAMED } : line;
}
