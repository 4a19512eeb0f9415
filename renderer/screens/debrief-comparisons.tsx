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
  const [first, second] = sideWords(comparison, people);
  return (
    <table className="figures compared">
      <caption>{comparisonTitle(comparison, people)}</caption>
      <thead>
        <tr>
          <th scope="col">{COMPARISON_WORDS.figure}</th>
          <th scope="col">{first}</th>
          <th scope="col">{second}</th>
          <th scope="col">{COMPARISON_WORDS.difference}</th>
          <th scope="col">{COMPARISON_WORDS.smallestUseful}</th>
          <th scope="col">{COMPARISON_WORDS.verdict}</th>
        </tr>
      </thead>
      <tbody>
        {comparisonLines(comparison).map((line) => (
          <tr key={line.label}>
            <th scope="row">{line.label}</th>
            <td>{line.first}</td>
            <td>{line.second}</td>
            <td>{line.difference}</td>
            <td className="quiet">{line.smallestUseful}</td>
            <td>{line.verdict}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
