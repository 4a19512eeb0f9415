import type { Comparison } from '../../machines/scoring/comparisons.ts';
import type { DrillReport } from '../../machines/scoring/report.ts';
import {
  COMPARISON_WORDS,
  comparisonCaution,
  comparisonLines,
  comparisonNote,
  comparisonTitle,
  sideWords,
} from '../../machines/words/comparison-words.ts';
import { escapeMarkup as safe } from './markup.ts';

/** A report's comparisons as a section of HTML; nothing where there are none. */
export function comparisonsHtml({ comparisons, drill }: Pick<DrillReport, 'comparisons' | 'drill'>): string {
  if (comparisons.length === 0) return '';
  const names = { A: drill.people.A.name, B: drill.people.B.name };
  const tables = comparisons.map((comparison) => tableOf(comparison, names)).join('');
  return `<h2>${safe(COMPARISON_WORDS.title)}</h2>${tables}<p class="quiet">${safe(comparisonNote(comparisons))}</p>`;
}

function tableOf(comparison: Comparison, names: { A: string; B: string }): string {
  const { figure, difference, smallestUseful, verdict } = COMPARISON_WORDS;
  const head = [figure, ...sideWords(comparison, names), difference, smallestUseful, verdict]
    .map((word) => `<th scope="col">${safe(word)}</th>`)
    .join('');
  const body = comparisonLines(comparison)
    .map(({ label, ...cells }) => {
      const { first, second } = cells;
      const shown = [first, second, cells.difference, cells.smallestUseful, cells.verdict];
      return `<tr><th scope="row">${safe(label)}</th>${shown.map((cell) => `<td>${safe(cell)}</td>`).join('')}</tr>`;
    })
    .join('');
  const caution = comparisonCaution(comparison);
  const notice = caution === null ? '' : `<p class="notice">${safe(caution)}</p>`;
  return `<table><caption>${safe(comparisonTitle(comparison, names))}</caption><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table>${notice}`;
}
