import type { BodyLine, OpenLine } from './journal.ts';
import type { Journal } from './journal-reader.ts';
import { guidelineOf } from './pattern.ts';
import { TICK_ITEMS } from './ticks.ts';

/** Who signed, and against what, when nobody is named. */
const UNNAMED = { by: 'instructor', standard: 'a standard' } as const;
/** Stands where a short name that is none of ours was: a hand-made journal can have a person's there. */
const OTHER = 'other';

/**
 * The same drill without anybody's name: the two are A and B, and whatever people may have written freely (notes, the
 * plan with its words, what a torn line had in it, who signed and by which standard, a guideline or a tick that is none of ours) is gone. No figure changes, since none depends on any of it.
 */
export function withoutNames<J extends Pick<Journal, 'open' | 'lines'>>(journal: J): J {
  const { plan: _plan, ...open } = journal.open;
  const people: OpenLine['people'] = { A: 'A', B: 'B' };
  return {
    ...journal,
    open: { ...open, people, guideline: guidelineOf(open.guideline) === null ? OTHER : open.guideline },
    lines: journal.lines.map(({ number, line }) => ({ number, line: withoutText(line) })),
  };
}

function withoutText(line: BodyLine): BodyLine {
  if (line.kind === 'note' || line.kind === 'recovered') return { ...line, text: '' };
  if (line.kind === 'signature') return { ...line, ...UNNAMED };
  const isStrange = line.kind === 'tick' && !(TICK_ITEMS as readonly string[]).includes(line.item);
  return isStrange ? { ...line, item: OTHER } : line;
}
