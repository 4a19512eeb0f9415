import type { Figure } from '../scoring/figure.ts';
import type { CheckReport, HandoverReport } from '../scoring/handover-figures.ts';
import { OUTCOME_WORDS } from './english.ts';
import { formatClock, formatNumber, formatSeconds } from './format.ts';

/** A handover in one line for the instructor: what was called, and what it cost. */
export function handoverSentence(handover: HandoverReport): string {
  const called = `${handover.reasons.join(' and ')} called`;
  if (handover.outcome !== 'taken up' && handover.outcome !== 'seamless')
    return `${called}: ${OUTCOME_WORDS[handover.outcome]}`;
  const guess = handover.outcome === 'seamless' ? `; ${OUTCOME_WORDS.seamless}` : '';
  const strays =
    typeof handover.strays === 'number' && handover.strays > 0 ? `; ${handover.strays} stray presses` : '';
  return `${called}: ${formatSeconds(handover.pauseMs)} without compressions, ${formatSeconds(handover.breathGapMs)} between breaths; coordinated: ${ofFive(handover.before5)} before, ${ofFive(handover.after5)} after${strays}${guess}`;
}

/**
 * A handover step by step, for the instructor: a line a step, times from the call on (a last old compression can have come
 * before it). `firstRightMs`: when the first coordinated cycle after it started.
 */
export function handoverSteps(handover: HandoverReport, firstRightMs: number | null): string[] {
  const { calledMs, lastOldMs, firstNewMs, outcome, strays } = handover;
  const called = `${handover.reasons.join(' and ')} called at ${formatClock(calledMs)}: ${OUTCOME_WORDS[outcome]}`;
  if (typeof lastOldMs !== 'number' || typeof firstNewMs !== 'number') return [called];
  const right =
    firstRightMs === null
      ? 'no right cycle yet'
      : `first right cycle ${formatSeconds(firstRightMs - calledMs)}`;
  return [
    called,
    `from the call: last old ${formatSeconds(lastOldMs - calledMs)}, first new ${formatSeconds(firstNewMs - calledMs)}, ${right}`,
    `${formatSeconds(handover.pauseMs)} without compressions, ${formatSeconds(handover.breathGapMs)} between breaths`,
    `coordinated: ${ofFive(handover.before5)} before, ${ofFive(handover.after5)} after`,
    ...(typeof strays === 'number' && strays > 0
      ? [`${strays} stray ${strays === 1 ? 'press' : 'presses'}`]
      : []),
  ];
}

/** What it cost, and when its steps were, in one line for a file. */
export function handoverWithSteps(handover: HandoverReport, firstRightMs: number | null): string {
  const [, when] = handoverSteps(handover, firstRightMs);
  return when === undefined ? handoverSentence(handover) : `${handoverSentence(handover)}; ${when}`;
}

/** A heart-rate check in one line. A check is never a fault. */
export function checkSentence(check: CheckReport): string {
  if (typeof check.pauseMs !== 'number') return `heart-rate check: ${check.pauseMs.reason}`;
  return `heart-rate check: ${formatNumber(check.pauseMs / 1000, 1)} s without compressions (goal 10 s, tool default)`;
}

/** "4 of five", or why that cannot be said. */
function ofFive(figure: Figure): string {
  return typeof figure === 'number' ? `${figure} of five` : 'fewer than five cycles';
}
