import type { Item } from '../scoring/advice.ts';
import type { PairItem, RowRef } from '../scoring/advice-pair.ts';
import type { MeanName } from '../scoring/advice-rules.ts';
import { formatClock, formatNumber } from './format.ts';
import { handoverSentence } from './handover-sentence.ts';
import { formatWithPlusMinus } from './plus-minus-words.ts';

/** The figures behind a sentence, with their interval and what they had to exceed, and when the rows that show it start. */
export function evidenceLine(evidence: Item['evidence'], rows: readonly RowRef[]): string {
  return `${evidenceWords(evidence)}${rowsWords(rows)}`;
}

export function pairEvidenceLine({ evidence, rows }: PairItem): string {
  switch (evidence.kind) {
    case 'handover':
      return handoverSentence(evidence.report);
    case 'share':
      return evidenceLine(evidence, rows);
    case 'order':
      return `in order: ${evidenceWords(evidence.withCount)} with the count, ${evidenceWords(evidence.withoutCount)} without it${rowsWords(rows)}`;
  }
}

function evidenceWords(evidence: Item['evidence']): string {
  switch (evidence.kind) {
    case 'share': {
      const { count, of, low, high } = evidence;
      return `${count} of ${of} cycles (${percent(low)} to ${percent(high)} %, exact 95 %)`;
    }
    case 'mean': {
      const { of, value, plusMinus, ideal, smallest, cycles } = evidence;
      const { label, unit, decimals } = MEAN_WORDS[of];
      return `${label} ${formatWithPlusMinus(value, plusMinus, decimals)}${unit}, ideal ${ideal}${unit}, told from ${smallest}${unit} off (${cycles} cycles)`;
    }
    case 'pace change': {
      const { value, low, high, overBoutPct } = evidence;
      return `change of pace ${formatNumber(value, 1)} % a minute (${formatNumber(low, 1)} to ${formatNumber(high, 1)}), ${formatNumber(overBoutPct, 0)} % over the bout`;
    }
  }
}

const MEAN_WORDS: Record<MeanName, { label: string; unit: string; decimals: number }> = {
  lagRatio: { label: 'breath lag ratio', unit: '', decimals: 2 },
  interval: { label: 'interval between compressions', unit: ' ms', decimals: 0 },
  start: { label: 'next “one” off its place by', unit: ' ms', decimals: 0 },
};

/** So many rows are named; the sheet has them all. */
const MOST_NAMED = 6;

function rowsWords(rows: readonly RowRef[]): string {
  if (rows.length === 0) return '';
  const named = rows.slice(0, MOST_NAMED).map(({ startMs }) => formatClock(startMs));
  const more = rows.length > MOST_NAMED ? ` and ${rows.length - MOST_NAMED} more` : '';
  return `; at ${named.join(', ')}${more}`;
}

function percent(share: number): string {
  return formatNumber(100 * share, 0);
}
