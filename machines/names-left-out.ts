import type { BodyLine, OpenLine } from './journal.ts';
import type { Journal } from './journal-reader.ts';

/**
 * The same drill without anybody's name: the two are A and B, and whatever people may have written freely (notes, the
 * plan with its words, what a torn line had in it) is gone. No figure changes, since none depends on any of it.
 */
export function withoutNames(journal: Journal): Journal {
  const { plan: _plan, ...open } = journal.open;
  const people: OpenLine['people'] = { A: 'A', B: 'B' };
  return {
    ...journal,
    open: { ...open, people },
    lines: journal.lines.map(({ number, line }) => ({ number, line: withoutText(line) })),
  };
}

function withoutText(line: BodyLine): BodyLine {
  return line.kind === 'note' || line.kind === 'recovered' ? { ...line, text: '' } : line;
}
