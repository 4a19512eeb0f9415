import { asGiven, type CountOrder, isGiven } from '../../machines/count/count-order.ts';
import type { ChartSnapshot } from '../../machines/drill-driver.ts';
import { HINT_WORDS } from '../../machines/words/english.ts';
import { breathsNowWords, CALLED_WORDS, LEARNER_WORDS, placesOf } from '../../machines/words/screen-floor.ts';

/** What the learners see: the count while it is heard, else what was called and is not carried out yet, else nothing. */
export type LearnersView = {
  count: CountOrder | null;
  words: readonly string[];
  /** Who stands where, before the drill has begun. */
  quiet: readonly string[];
  hint: string | null;
};

export function learnersViewOf(
  chart: ChartSnapshot,
  people: { A: string; B: string },
  nowMs: number,
): LearnersView {
  const { context } = chart;
  const nothing: LearnersView = { count: null, words: [], quiet: [], hint: hintOf(chart, people) };
  if (chart.matches({ stage: 'finished' }))
    return { ...nothing, words: [LEARNER_WORDS.finished], hint: null };
  if (chart.matches({ stage: 'notBegun' })) {
    return { ...nothing, quiet: placesOf(context.called.roles, people) };
  }
  if (chart.matches({ stage: 'resting' }))
    return { ...nothing, words: [LEARNER_WORDS.rest, ...shownRate(chart, nowMs), ...calledChanges(chart)] };
  const isChecking = chart.matches({ stage: 'checking' });
  if (isChecking || chart.matches({ stage: 'ventilating' })) {
    const rate = shownRate(chart, nowMs);
    const word = isChecking ? LEARNER_WORDS.check : LEARNER_WORDS.ventilate;
    return { ...nothing, words: [...(rate.length > 0 ? rate : [word]), ...calledChanges(chart)] };
  }
  const count = givenCountOf(chart, nowMs);
  if (count !== null) return { ...nothing, count };
  const called = calledChanges(chart);
  if (called.length > 0 || chart.matches({ stage: 'compressing' })) return { ...nothing, words: called };
  const rate = shownRate(chart, nowMs);
  return { ...nothing, words: rate.length > 0 ? rate : [startWord(context.lastCall?.call)] };
}

/** A hint, or once after a swap the word to who compresses on. */
function hintOf(chart: ChartSnapshot, people: { A: string; B: string }): string | null {
  const { hint, arrangement } = chart.context;
  if (chart.matches({ reminder: 'shown' })) return breathsNowWords(arrangement.roles.ventilator, people);
  return chart.matches({ hint: 'shown' }) && hint ? HINT_WORDS[hint.hint] : null;
}

/** A heart rate given silently stays so long where they can see it (tool default: a check's goal). */
const RATE_SHOWN_MS = 10_000;

function shownRate({ context }: ChartSnapshot, nowMs: number): string[] {
  const { heartRateShownMs, heartRateBpm } = context;
  if (heartRateShownMs === null || nowMs - heartRateShownMs >= RATE_SHOWN_MS) return [];
  return [LEARNER_WORDS.heartRate, `${heartRateBpm}`];
}

/** With no instructor at hand: how the drill is begun. */
export function withHolding(view: LearnersView, chart: ChartSnapshot, isLetGoAwaited: boolean): LearnersView {
  if (!chart.matches({ stage: 'notBegun' })) return view;
  if (isLetGoAwaited) return { ...view, words: [LEARNER_WORDS.letGo], quiet: [] };
  return { ...view, quiet: [...view.quiet, LEARNER_WORDS.holdToBegin] };
}

/** The count that is given now or is to come, where it really stands; null while none is. */
export function givenCountOf({ context }: ChartSnapshot, nowMs: number): CountOrder | null {
  const { order } = context;
  return order !== null && isGiven(order, nowMs) ? asGiven(order, context) : null;
}

/** What was called and is not in force yet. */
export function calledChanges({ context: { arrangement, called } }: ChartSnapshot): string[] {
  const words: string[] = [];
  if (called.roles.compressor !== arrangement.roles.compressor) words.push(CALLED_WORDS.swap);
  if (called.technique !== arrangement.technique) words.push(CALLED_WORDS[called.technique]);
  if (called.stance !== arrangement.stance) words.push(CALLED_WORDS[called.stance]);
  return words;
}

function startWord(lastCall: string | undefined): string {
  if (lastCall === 'resume') return LEARNER_WORDS.resume;
  return lastCall === 'checked' ? LEARNER_WORDS.checked : LEARNER_WORDS.begin;
}
