import type { Tolerance } from '../journal.ts';
import type { Us } from '../units.ts';
import { type CycleRow, exactTiming, isLagInPlace, isNear, TOLERANCE_HUNDREDTHS } from './cycle-row.ts';
import { pausesOf } from './figures.ts';

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

/** The faults of a row, the plainest first; empty when the cycle is coordinated and the breath was let go in time. */
export function faultsOf(row: CycleRow, tolerance: Tolerance): Fault[] {
  const faults: Fault[] = [...countFaults(row)];
  if (row.clash.byBreath > 0) faults.push('breath too soon');
  if (row.clash.byCompression > 0) faults.push('compression too soon');
  if (pausesOf(row).length > 0) faults.push('pause');
  const timing = exactTiming(row);
  if (timing !== null) {
    const limit = TOLERANCE_HUNDREDTHS[tolerance];
    const isEven = (us: Us) => isNear(us, row.idealUs, 4, limit.interval);
    if (!isEven(timing.firstIntervalUs) || !isEven(timing.secondIntervalUs))
      faults.push('uneven compressions');
    if (!isLagInPlace(timing)) faults.push(isLagShort(timing.lagUs, timing) ? 'breath early' : 'breath late');
    if (!isNear(row.lengthUs, row.idealUs, 1, limit.length))
      faults.push(row.lengthUs < row.idealUs ? 'cycle short' : 'cycle long');
  }
  if (row.clash.letGoLate > 0) faults.push('let go late');
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
  if (row.breaths.length > 1) faults.push('more than one breath');
  return faults;
}

/** Was room left for a breath after the third compression or a later one? */
function hasGapLeft(row: CycleRow): boolean {
  return row.compressions.some((press, index) => {
    const next = row.compressions[index + 1];
    return (
      index >= 2 && next !== undefined && 1000 * (next.onUs - press.onUs) > GAP_LEFT_THOUSANDTHS * row.idealUs
    );
  });
}
