import type { Tolerance } from '../journal.ts';
import type { Us } from '../units.ts';
import {
  type CycleRow,
  type ExactTiming,
  exactTiming,
  isLagInPlace,
  isNear,
  TOLERANCE_HUNDREDTHS,
} from './cycle-row.ts';
import { pausesOf } from './figures.ts';
import { breathOutsideGap, phraseOf } from './phrase.ts';

/** What happened in a cycle that is not as it should be, by name; words/ has the words. */
export type Fault =
  | 'no breath, gap left'
  | 'no breath, no gap'
  | 'breath after one'
  | 'breath after two'
  | 'breath after four'
  | 'more than one breath'
  | 'breath too soon'
  | 'compression too soon'
  | 'let go late'
  | 'pause'
  | 'uneven compressions'
  | 'breath early'
  | 'breath late'
  | 'cycle short'
  | 'cycle long';

/** A gap after a triplet of more than 0.375 T is one that was left for a breath (tool default: half as long again as a beat). */
const GAP_LEFT_THOUSANDTHS = 375;

/**
 * The faults of a row, the plainest first; empty when the cycle is coordinated and the breath was let go in time. After a breath that fell outside the gap
 * that was left for it, the row holds parts of two triplets: it is named by that, and neither who clashed nor how even it is.
 */
export function faultsOf(row: CycleRow, tolerance: Tolerance): Fault[] {
  const phrase = phraseOf(row, row.idealUs / 4);
  // A row knows nothing of the one before it: from three compressions on, the first may end a triplet that began there.
  const outside = breathOutsideGap(phrase, row.compressions.length < 3 ? 0 : 1);
  const faults: Fault[] = outside === null ? countFaults(row) : [];
  if (outside === 'late') faults.push(...(phrase.gaps > 1 ? GAP_BEFORE : []), 'breath late');
  if (outside === 'before the third') faults.push(...(hasGapLeft(row) ? GAP_BEFORE : []), 'breath after two');
  if (row.breaths.length > 1) faults.push('more than one breath');
  if (outside === null && row.clash.byBreath > 0) faults.push('breath too soon');
  if (outside === null && row.clash.byCompression > 0) faults.push('compression too soon');
  if (pausesOf(row).length > 0) faults.push('pause');
  const timing = exactTiming(row);
  if (timing !== null) {
    const limit = TOLERANCE_HUNDREDTHS[tolerance];
    if (outside === null) faults.push(...timingFaults(timing, row.idealUs, limit.interval));
    if (!isNear(row.lengthUs, row.idealUs, 1, limit.length))
      faults.push(row.lengthUs < row.idealUs ? 'cycle short' : 'cycle long');
  }
  if (outside === null && row.clash.letGoLate > 0) faults.push('let go late');
  return faults;
}

const GAP_BEFORE: readonly Fault[] = ['no breath, gap left'];

function timingFaults(timing: ExactTiming, idealUs: Us, hundredths: number): Fault[] {
  const isEven = (us: Us) => isNear(us, idealUs, 4, hundredths);
  const faults: Fault[] =
    isEven(timing.firstIntervalUs) && isEven(timing.secondIntervalUs) ? [] : ['uneven compressions'];
  if (!isLagInPlace(timing)) faults.push(isLagShort(timing.lagUs, timing) ? 'breath early' : 'breath late');
  return faults;
}

function isLagShort(lagUs: Us, timing: { firstIntervalUs: Us; secondIntervalUs: Us }): boolean {
  return 2 * lagUs < timing.firstIntervalUs + timing.secondIntervalUs;
}

function countFaults(row: CycleRow): Fault[] {
  const faults: Fault[] = [];
  const count = row.compressions.length;
  if (count === 1) faults.push('breath after one');
  else if (count === 2) faults.push('breath after two');
  else if (count > 3) {
    if (hasGapLeft(row)) faults.push('no breath, gap left');
    else faults.push(count === 4 ? 'breath after four' : 'no breath, no gap');
  }
  return faults;
}

/** Was room left for a breath after the third compression or a later one? */
export function hasGapLeft(row: CycleRow): boolean {
  return row.compressions.some((press, index) => {
    const next = row.compressions[index + 1];
    return (
      index >= 2 && next !== undefined && 1000 * (next.onUs - press.onUs) > GAP_LEFT_THOUSANDTHS * row.idealUs
    );
  });
}
