import type { Tolerance } from '../journal.ts';
import type { Us } from '../units.ts';
import { type CycleRow, exactTiming, isLagInPlace, TOLERANCE_HUNDREDTHS } from './cycle-row.ts';
import { hasGapLeft } from './faults.ts';
import { pausesOf } from './figures.ts';
import { breathOutsideGap, isGap, phraseOf } from './phrase.ts';

/** What went wrong in a cycle, and through whom: the rules of advice count these. */
export const CAUSES = {
  'breath too soon': 'ventilator',
  'breath before the third': 'ventilator',
  'no breath': 'ventilator',
  'several breaths': 'ventilator',
  'breath early': 'ventilator',
  'breath late': 'ventilator',
  'let go late': 'ventilator',
  'compression too soon': 'compressor',
  'no room': 'compressor',
  'four compressions': 'compressor',
  'compression not registered': 'compressor',
  'compression held': 'compressor',
  pause: 'compressor',
  uneven: 'compressor',
  'two or one, by whom is not known': 'pair',
} as const;
export type Cause = keyof typeof CAUSES;

/** What a row has from the one before it: compressions of its first triplet, after a breath that came early or late. */
export type Carried = { compressions: number; after: 'late' | 'before the third' };

/** `beatUs`: the compressor's own beat over their cycles, so that one who is too fast is not called uneven as well. */
export type CycleContext = { carried: Carried | null; beatUs: Us; tolerance: Tolerance };

/**
 * Tool defaults, in beats. From the last compression to the next one over the breath are two beats: under 1.7 the compressor began too
 * soon, else a clash there is the breath's, which was late. From 0.8 on a breath is not too soon, and a compression still down is held too long.
 */
const BEATS = { leastOverBreath: 1.7, breathInPlace: 0.8 } as const;

/** Why a complete cycle is not as it should be, by who began too soon; empty when nobody is to be told anything. */
export function causesOf(row: CycleRow, context: CycleContext): Cause[] {
  const order = orderCauses(row, context);
  return [...new Set([...order, ...clashCauses(row, context, order), ...timingCauses(row, context, order)])];
}

/**
 * Does a row hold the end of one triplet and the start of another, since the breath fell outside the gap that the compressor left? Then its
 * intervals and its lag are of no one's timing.
 */
export function isOfTwoTriplets(
  row: CycleRow,
  { carried, beatUs }: Pick<CycleContext, 'carried' | 'beatUs'>,
): boolean {
  return breathOutsideGap(phraseOf(row, beatUs), carried?.compressions ?? 0) !== null;
}

/** What a row leaves to the next one of its bout; null when its triplet is over. */
export function carriedFrom(
  row: CycleRow,
  { carried, beatUs }: Pick<CycleContext, 'carried' | 'beatUs'>,
): Carried | null {
  const phrase = phraseOf(row, beatUs);
  const before = carried?.compressions ?? 0;
  const outside = breathOutsideGap(phrase, before);
  const after = outside ?? (isCutByBreath(row, beatUs) ? 'before the third' : null);
  const compressions = phrase.sinceGap + (phrase.gaps === 0 ? before : 0);
  return after === null || compressions >= 3 ? null : { compressions, after };
}

function orderCauses(row: CycleRow, { carried, beatUs }: CycleContext): Cause[] {
  const { compressions, breaths } = row;
  const [first, second] = compressions;
  const last = compressions.at(-1);
  const breath = breaths[0];
  if (first === undefined || last === undefined || breath === undefined) return [];
  const several: Cause[] = breaths.length > 1 && pausesOf(row).length === 0 ? ['several breaths'] : [];
  const phrase = phraseOf(row, beatUs);
  const before = carried?.compressions ?? 0;
  const outside = breathOutsideGap(phrase, before);
  if (outside !== null) {
    // The gap before a late breath is its own, and the one after a breath before the third was that one's.
    const answered = Number(outside === 'late') + Number(carried?.after === 'before the third');
    const missed: Cause[] = phrase.gaps > answered ? ['no breath'] : [];
    return [outside === 'late' ? 'breath late' : 'breath before the third', ...missed, ...several];
  }
  if (compressions.length < 3) {
    if (before > 0 && phrase.gaps === 0 && before + compressions.length === 3) return several;
    if (isCutByBreath(row, beatUs)) return ['breath before the third', ...several];
    const isOneLeftOut =
      isGap(breath.onUs - last.onUs, beatUs) ||
      (second !== undefined && isGap(second.onUs - first.onUs, beatUs));
    return [isOneLeftOut ? 'compression not registered' : 'two or one, by whom is not known', ...several];
  }
  // A breath before the third leaves the rest of the triplet to the next row, which is then too long through no fault of the compressor.
  if (compressions.length === 3 || carried?.after === 'before the third') return several;
  const isGapLeft = hasGapLeft(row) || (carried !== null && phrase.gaps > 0 && before + phrase.first >= 3);
  if (isGapLeft) return ['no breath', ...several];
  return [compressions.length === 4 ? 'four compressions' : 'no room', ...several];
}

/** Did the breath come before the third compression while the compressor went on counting? */
function isCutByBreath(row: CycleRow, beatUs: Us): boolean {
  const { compressions, clash } = row;
  return compressions.length < 3 && (clash.byBreath > 0 || phraseOf(row, beatUs).isOpen);
}

function clashCauses(row: CycleRow, context: CycleContext, order: readonly Cause[]): Cause[] {
  const { compressions, breaths, clash, lengthUs } = row;
  const { beatUs } = context;
  const last = compressions.at(-1);
  const breath = breaths[0];
  if (last === undefined || breath === undefined || order.includes('breath before the third')) return [];
  if (isOfTwoTriplets(row, context)) return [];
  const causes: Cause[] = [];
  // A fourth compression stands in the breath's place: it began too soon, not the breath beside it.
  if (clash.byBreath > 0 && !order.includes('four compressions')) {
    const isInPlace = breath.onUs - last.onUs >= BEATS.breathInPlace * beatUs;
    causes.push(isInPlace ? 'compression held' : 'breath too soon');
  }
  const isStartTooSoon = lengthUs - last.onUs < BEATS.leastOverBreath * beatUs;
  if (clash.byCompression > 0) causes.push(isStartTooSoon ? 'compression too soon' : 'breath late');
  if (clash.letGoLate > 0) causes.push(isStartTooSoon ? 'compression too soon' : 'let go late');
  return causes;
}

function timingCauses(row: CycleRow, context: CycleContext, order: readonly Cause[]): Cause[] {
  const { beatUs, tolerance } = context;
  const causes: Cause[] = [];
  const timing = exactTiming(row);
  if (timing !== null && !isOfTwoTriplets(row, context)) {
    const { firstIntervalUs, secondIntervalUs, lagUs } = timing;
    if (!isLagInPlace(timing) && row.clash.count === 0)
      causes.push(2 * lagUs < firstIntervalUs + secondIntervalUs ? 'breath early' : 'breath late');
    const mostUs = (TOLERANCE_HUNDREDTHS[tolerance].interval * row.idealUs) / 100;
    if ([firstIntervalUs, secondIntervalUs].some((us) => Math.abs(us - beatUs) > mostUs))
      causes.push('uneven');
  }
  // A pause that waited for a breath which did not come, or came when it was over, is that breath's.
  const isWaited = order.includes('no breath') || order.includes('breath late');
  if (pausesOf(row).length > 0 && !isWaited) causes.push(pauseCause(row));
  return causes;
}

/** Who a pause waited for: the breath that came late, or the compression after it. */
function pauseCause({ compressions, breaths, lengthUs }: CycleRow): Cause {
  const last = compressions.at(-1);
  const [breath] = breaths;
  if (last === undefined || breath === undefined) return 'pause';
  const untilBreathUs = breath.onUs - last.onUs;
  const afterBreathUs = lengthUs - (breaths.at(-1) ?? breath).onUs;
  return untilBreathUs > afterBreathUs ? 'breath late' : 'pause';
}
