import { asGiven, type CountOrder, isGiven } from '../../machines/count/count-order.ts';
import type { ChartSnapshot } from '../../machines/drill-driver.ts';
import type { LearnersWords } from '../../machines/words/languages.ts';
import { breathsNowWords, placesOf } from '../../machines/words/screen-floor.ts';

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
  words: LearnersWords,
): LearnersView {
  const { context } = chart;
  const nothing: LearnersView = { count: null, words: [], quiet: [], hint: hintOf(chart, people, words) };
  if (chart.matches({ stage: 'finished' })) return { ...nothing, words: [words.finished], hint: null };
  if (chart.matches({ stage: 'notBegun' })) {
    return { ...nothing, quiet: placesOf(context.called.roles, people, words) };
  }
  if (chart.matches({ stage: 'resting' }))
    return {
      ...nothing,
      words: [words.rest, ...shownRate(chart, nowMs, words), ...calledChanges(chart, words)],
    };
  const isChecking = chart.matches({ stage: 'checking' });
  if (isChecking || chart.matches({ stage: 'ventilating' })) {
    const rate = shownRate(chart, nowMs, words);
    const word = isChecking ? words.check : words.ventilate;
    return { ...nothing, words: [...(rate.length > 0 ? rate : [word]), ...calledChanges(chart, words)] };
  }
  const count = givenCountOf(chart, nowMs);
  if (count !== null) return { ...nothing, count };
  const called = calledChanges(chart, words);
  if (called.length > 0 || chart.matches({ stage: 'compressing' })) return { ...nothing, words: called };
  const rate = shownRate(chart, nowMs, words);
  return { ...nothing, words: rate.length > 0 ? rate : [startWord(context.lastCall?.call, words)] };
}

/** A hint, or once after a swap the word to who compresses on. */
function hintOf(chart: ChartSnapshot, people: { A: string; B: string }, words: LearnersWords): string | null {
  const { hint, arrangement } = chart.context;
  if (chart.matches({ reminder: 'shown' }))
    return breathsNowWords(arrangement.roles.ventilator, people, words);
  return chart.matches({ hint: 'shown' }) && hint ? words.hints[hint.hint] : null;
}

/** A heart rate given silently stays so long where they can see it (tool default: a check's goal). */
const RATE_SHOWN_MS = 10_000;

function shownRate({ context }: ChartSnapshot, nowMs: number, words: LearnersWords): string[] {
  const { heartRateShownMs, heartRateBpm } = context;
  if (heartRateShownMs === null || nowMs - heartRateShownMs >= RATE_SHOWN_MS) return [];
  return [words.heartRate, `${heartRateBpm}`];
}

/** With no instructor at hand: how the drill is begun. */
export function withHolding(
  view: LearnersView,
  chart: ChartSnapshot,
  isLetGoAwaited: boolean,
  words: LearnersWords,
): LearnersView {
  if (!chart.matches({ stage: 'notBegun' })) return view;
  if (isLetGoAwaited) return { ...view, words: [words.letGo], quiet: [] };
  return { ...view, quiet: [...view.quiet, words.holdToBegin] };
}

/** The count that is given now or is to come, where it really stands; null while none is. */
export function givenCountOf({ context }: ChartSnapshot, nowMs: number): CountOrder | null {
  const { order } = context;
  return order !== null && isGiven(order, nowMs) ? asGiven(order, context) : null;
}

/** What was called and is not in force yet. */
export function calledChanges(
  { context: { arrangement, called } }: ChartSnapshot,
  { called: calledWords }: LearnersWords,
): string[] {
  const words: string[] = [];
  if (called.roles.compressor !== arrangement.roles.compressor) words.push(calledWords.swap);
  if (called.technique !== arrangement.technique) words.push(calledWords[called.technique]);
  if (called.stance !== arrangement.stance) words.push(calledWords[called.stance]);
  return words;
}

function startWord(lastCall: string | undefined, words: LearnersWords): string {
  if (lastCall === 'resume') return words.resume;
  return lastCall === 'checked' ? words.checked : words.begin;
}
