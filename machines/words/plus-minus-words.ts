import type { Binding } from '../journal.ts';
import { type Figure, numberOf } from '../scoring/figure.ts';
import { areEqual } from '../scoring/plus-minus.ts';
import type { DrillSummary } from '../scoring/report.ts';
import { formatNumber } from './format.ts';

/** What ± is, for the instructor, wherever figures have it. */
export const PLUS_MINUS_NOTE =
  'Beside a figure, ± is how far off it may be (95 %): for a mean from its spread and what the switches add, and from 20 cycles on from blocks of 5 cycles where that is more; for all others from such blocks alone. A figure without it comes from too few, or was the same throughout.';

/** Two figures that agree within their ± are called this. */
export const EQUAL_WORD = 'equal';

/** "90.0 ± 0.3": as many decimals as asked for, or up to two more when the ± would else be 0. */
export function formatWithPlusMinus(value: number, plusMinus: Figure | undefined, decimals: number): string {
  if (typeof plusMinus !== 'number') return formatNumber(value, decimals);
  let places = decimals;
  while (places < decimals + 2 && plusMinus < 0.5 / 10 ** places) places += 1;
  return `${formatNumber(value, places)} ± ${formatNumber(plusMinus, places)}`;
}

/** " (equal)" when two figures of a report stand side by side and agree within their ±; nothing when they do not, or it cannot be told. */
export function equalWord(
  one: { figure: Figure; plusMinus?: Figure },
  other: { figure: Figure; plusMinus?: Figure },
): string {
  const [a, b] = [one, other].map(({ figure, plusMinus }) => ({
    value: numberOf(figure),
    plusMinus: plusMinus === undefined ? null : numberOf(plusMinus),
  }));
  if (a === undefined || b === undefined || a.value === null || b.value === null) return '';
  const isEqual = areEqual({ ...a, value: a.value }, { ...b, value: b.value });
  return isEqual === true ? ` (${EQUAL_WORD})` : '';
}

const SWITCH_NAMES: Record<Binding, readonly [string, string]> = {
  place: ['chest switch', 'airway switch'],
  person: ['switch of A', 'switch of B'],
};

/** Whether an offset between the switches was taken out, and how much; else that the figures between the two carry it. */
export function switchOffsetSentence({
  switchOffset,
  binding,
}: Pick<DrillSummary, 'switchOffset' | 'binding'>): string {
  if ('reason' in switchOffset)
    return 'The offset between the two switches is not known: figures between the two carry it.';
  const { medianMs, errorMs, spreadMs, n, applied } = switchOffset;
  const [first, second] = SWITCH_NAMES[binding];
  const [later, earlier] = medianMs < 0 ? [first, second] : [second, first];
  const size = `${formatWithPlusMinus(Math.abs(medianMs), errorMs, 1)} ms`;
  const found = `With both pressed at once the ${later} tells it ${size} after the ${earlier} (median of ${n}, middle half ${formatNumber(spreadMs, 1)} ms)`;
  return applied
    ? `${found}: this was taken out of the ${later}’s times.`
    : `${found}: this was not taken out, and figures between the two carry it.`;
}
