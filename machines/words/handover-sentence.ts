import type { CheckReport, HandoverReport } from '../scoring/handover-figures.ts';
import { OUTCOME_WORDS } from './english.ts';
import { formatFigure, formatNumber, formatSeconds } from './format.ts';

/** A handover in one line for the instructor: what was called, and what it cost. */
export function handoverSentence(handover: HandoverReport): string {
  const called = `${handover.reasons.join(' and ')} called`;
  if (handover.outcome !== 'taken up' && handover.outcome !== 'seamless')
    return `${called}: ${OUTCOME_WORDS[handover.outcome]}`;
  const guess = handover.outcome === 'seamless' ? `; ${OUTCOME_WORDS.seamless}` : '';
  const strays =
    typeof handover.strays === 'number' && handover.strays > 0 ? `; ${handover.strays} stray presses` : '';
  return `${called}: ${formatSeconds(handover.pauseMs)} without compressions, ${formatSeconds(handover.breathGapMs)} between breaths; coordinated of five before ${formatFigure(handover.before5, 0)}, of five after ${formatFigure(handover.after5, 0)}${strays}${guess}`;
}

/** A heart-rate check in one line. A check is never a fault. */
export function checkSentence(check: CheckReport): string {
  if (typeof check.pauseMs !== 'number') return `heart-rate check: ${check.pauseMs.reason}`;
  return `heart-rate check: ${formatNumber(check.pauseMs / 1000, 1)} s without compressions (goal 10 s, tool default)`;
}
