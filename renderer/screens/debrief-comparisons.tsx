import type { ReactElement } from 'react';
import type { Comparison } from '../../machines/scoring/comparisons.ts';
import {
  COMPARISON_WORDS,
  comparisonCaution,
  comparisonLines,
  comparisonNote,
  comparisonSentences,
  comparisonTitle,
  sideWords,
} from '../../machines/words/comparison-words.ts';
import type { DebriefData } from '../app/debrief-data.ts';
import { Folded } from '../components/folded.tsx';
import { PlainTable } from '../components/plain-table.tsx';

/** What differed between stretches, in words; the figures are folded, for the instructor. Nothing where there is nothing to compare. */
export function DebriefComparisons({ data }: { data: DebriefData }): ReactElement | null {
  const { report, open } = data;
  const { comparisons } = report;
  if (comparisons.length === 0) return null;
  return (
    <Folded title={COMPARISON_WORDS.title} id="comparisons">
      {comparisons.map((comparison) => {
        const title = comparisonTitle(comparison, open.people);
        const caution = comparisonCaution(comparison);
        return (
          <div key={title}>
            <h3>{title}</h3>
            <p>{comparisonSentences(comparison, open.people).join(' ')}</p>
            {caution === null ? null : <p className="caution">{caution}</p>}
          </div>
        );
      })}
      <Folded title={COMPARISON_WORDS.figures}>
        {comparisons.map((comparison) => (
          <ComparisonTable
            key={comparisonTitle(comparison, open.people)}
            comparison={comparison}
            people={open.people}
          />
        ))}
        <p className="note">{comparisonNote(comparisons)}</p>
      </Folded>
    </Folded>
  );
}

type ComparisonTableProps = { comparison: Comparison; people: DebriefData['open']['people'] };

function ComparisonTable({ comparison, people }: ComparisonTableProps): ReactElement {
  const { figure, difference, smallestUseful, verdict } = COMPARISON_WORDS;
  return (
    <PlainTable
      kind="compared"
      caption={comparisonTitle(comparison, people)}
      columns={[figure, ...sideWords(comparison, people), difference, smallestUseful, verdict]}
      rows={comparisonLines(comparison).map((line) => ({
        head: line.label,
        cells: [line.first, line.second, line.difference, { quiet: line.smallestUseful }, line.verdict],
      }))}
    />
  );
}
