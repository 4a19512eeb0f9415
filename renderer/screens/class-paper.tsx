import type { ReactElement } from 'react';
import type { ClassTurns } from '../../machines/class/turns.ts';
import { CLASS_WORDS, turnsWords } from '../../machines/words/class-words.ts';
import { CAUTIONS } from '../../machines/words/english.ts';
import type { PaperSize } from '../../machines/words/paper-words.ts';
import { CLASS_PAGE_WORDS } from '../../machines/words/screen-class.ts';
import { formatWhen } from '../components/when.ts';
import { ClassTurnsTable } from './class-turns-table.tsx';

/** The turns to come, for the wall. */
export function ClassPaper({ plan, size }: { plan: ClassTurns; size: PaperSize }): ReactElement {
  const [from, to] = [plan.turns[0]?.number ?? 0, plan.turns.at(-1)?.number ?? 0];
  return (
    <div className="paper class-paper" data-size={size}>
      <article>
        <header>
          <h1>
            {CLASS_WORDS.title} <span className="quiet">{CLASS_PAGE_WORDS.paperTitle(from, to)}</span>
          </h1>
          <p className="note">
            {turnsWords(plan)}. {CLASS_PAGE_WORDS.printed(formatWhen(new Date().toISOString()))}{' '}
            {CLASS_PAGE_WORDS.paperNote}
          </p>
        </header>
        <div>
          <ClassTurnsTable turns={plan.turns} label={CLASS_PAGE_WORDS.toCome} />
        </div>
        <footer>
          <p className="cautions">{CAUTIONS.purpose}</p>
        </footer>
      </article>
    </div>
  );
}
