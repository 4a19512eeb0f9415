import type { ChartSnapshot } from '../../machines/drill-driver.ts';
import {
  type RateEntry,
  rateWays,
  stepped,
  withDigit,
  withNextWay,
  withoutDigit,
} from '../../machines/heart-rate.ts';
import type { InstructorKey } from '../../machines/instructor-keys.ts';
import type { HeartRateWay } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import { givenCountOf } from './learners-view.ts';

const STEP_BPM = 10;

/** The ways in which a heart rate can be given at this moment. */
export function rateWaysNow(chart: ChartSnapshot, nowMs: Ms, hasSound: boolean): HeartRateWay[] {
  const { stage } = chart.value;
  const { lastCompressionMs } = chart.context;
  return rateWays(
    { stage, lastCompressionMs, isCounted: givenCountOf(chart, nowMs) !== null, hasSound },
    nowMs,
  );
}

/** While a heart rate is entered the instructor's keys are digits, steps, the way, and the eraser. */
export function entryAfter(entry: RateEntry, key: InstructorKey, ways: readonly HeartRateWay[]): RateEntry {
  if (key === '*') return withNextWay(entry, ways);
  if (key === '/') return withoutDigit(entry);
  if (key === '-') return stepped(entry, -STEP_BPM);
  if (key === '=') return stepped(entry, STEP_BPM);
  return withDigit(entry, Number(key));
}
