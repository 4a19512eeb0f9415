import type { Tolerance } from '../journal.ts';
import type { Us } from '../units.ts';
import { type CycleRow, exactTiming, isLagInPlace, TOLERANCE_HUNDREDTHS } from './cycle-row.ts';
import { faultsOf } from './faults.ts';
import { pausesOf } from './figures.ts';

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

/** `beatUs`: the compressor's own beat over their cycles, so that one who is too fast is not called uneven as well. */
export type CycleContext = { before: CycleRow | undefined; beatUs: Us; tolerance: Tolerance };

/**
 * Tool defaults, in beats. From the last compression to the next one over the breath are two beats: under 1.7 the compressor began too
 * soon, else a clash there is the breath's, which was late. Up to 1.5 to the next compression, or from one to the next, none was
 * left out. From 0.8 on a breath is not too soon, and a compression still down is held too long.
 */
const BEATS = { leastOverBreath: 1.7, mostBetween: 1.5, breathInPlace: 0.8 } as const;

/** Why a complete cycle is not as it should be, by who began too soon; empty when nobody is to be told anything. */
export function causesOf(row: CycleRow, context: CycleContext): Cause[] {
  const order = orderCauses(row, context);
  return [...new Set([...order, ...clashCauses(row, context, order), ...timingCauses(row, context, order)])];
}

function orderCauses(row: CycleRow, { before, beatUs, tolerance }: CycleContext): Cause[] {
  const { compressions, breaths } = row;
  const [first, second] = compressions;
  const last = compressions.at(-1);
  const breath = breaths[0];
  if (first === undefined || last === undefined || breath === undefined) return [];
  const several: Cause[] = breaths.length > 1 && pausesOf(row).length === 0 ? ['several breaths'] : [];
  if (compressions.length < 3) {
    if (isCutByBreath(row, beatUs)) return ['breath before the third', ...several];
    const mostUs = BEATS.mostBetween * beatUs;
    const isOneLeftOut =
      breath.onUs - last.onUs > mostUs || (second !== undefined && second.onUs - first.onUs > mostUs);
    return [isOneLeftOut ? 'compression not registered' : 'two or one, by whom is not known', ...several];
  }
  // A breath before the third leaves the rest of the triplet to the next row, which is then too long through no fault of the compressor.
  if (compressions.length === 3 || (before !== undefined && isCutByBreath(before, beatUs))) return several;
  const faults = faultsOf(row, tolerance);
  if (faults.includes('no breath, gap left')) return ['no breath', ...several];
  return [compressions.length === 4 ? 'four compressions' : 'no room', ...several];
}

/** Did the breath come before the third compression while the compressor went on counting? */
function isCutByBreath({ compressions, lengthUs, clash }: CycleRow, beatUs: Us): boolean {
  const last = compressions.at(-1);
  if (last === undefined || compressions.length >= 3) return false;
  return clash.byBreath > 0 || lengthUs - last.onUs <= BEATS.mostBetween * beatUs;
}

function clashCauses(row: CycleRow, { beatUs }: CycleContext, order: readonly Cause[]): Cause[] {
  const { compressions, breaths, clash, lengthUs } = row;
  const last = compressions.at(-1);
  const breath = breaths[0];
  if (last === undefined || breath === undefined || order.includes('breath before the third')) return [];
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

function timingCauses(row: CycleRow, { beatUs, tolerance }: CycleContext, order: readonly Cause[]): Cause[] {
  const causes: Cause[] = [];
  const timing = exactTiming(row);
  if (timing !== null) {
    const { firstIntervalUs, secondIntervalUs, lagUs } = timing;
    if (!isLagInPlace(timing) && row.clash.count === 0)
      causes.push(2 * lagUs < firstIntervalUs + secondIntervalUs ? 'breath early' : 'breath late');
    const mostUs = (TOLERANCE_HUNDREDTHS[tolerance].interval * row.idealUs) / 100;
    if ([firstIntervalUs, secondIntervalUs].some((us) => Math.abs(us - beatUs) > mostUs))
      causes.push('uneven');
  }
  if (pausesOf(row).length > 0 && !order.includes('no breath')) causes.push(pauseCause(row));
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
