import { CYCLE_MS } from '../pattern.ts';
import { exactShareInterval } from '../statistics/binomial.ts';
import { BLOCKS } from '../statistics/block-bootstrap.ts';
import { mean, sampleSd } from '../statistics/summary.ts';
import { type Ms, type Share, toMs, toUs } from '../units.ts';
import type { MeanName, ShareLimits } from './advice-rules.ts';
import { blockMeanError } from './block-figures.ts';
import { type CycleRow, exactTiming } from './cycle-row.ts';
import type { Instrument } from './instrument.ts';
import { meanHalfWidth } from './plus-minus.ts';

/** So many of so many cycles, with the exact 95 % interval of the share. */
export type ShareEvidence = { kind: 'share'; count: number; of: number; low: Share; high: Share };
/** A mean with its ±; `ideal` and `smallest` in its own unit; `awayMs` is how far it is from ideal, ms. */
export type MeanEvidence = {
  kind: 'mean';
  of: MeanName;
  value: number;
  plusMinus: number;
  ideal: number;
  smallest: number;
  awayMs: Ms;
  cycles: number;
};

/**
 * A share of cycles with its exact interval (binomial.ts); null of none. It takes cycles for independent: things that come in clusters
 * have a wider one, which is why a rule asks for three cycles and a share that matters besides.
 */
export function shareEvidence(count: number, of: number): ShareEvidence | null {
  const interval = exactShareInterval(count, of);
  return interval === null ? null : { kind: 'share', count, of, ...interval };
}

/** Does a share exceed what comes by chance, and its smallest useful size? */
export function exceedsLimits({ count, of, low }: ShareEvidence, limits: ShareLimits): boolean {
  return count >= limits.least && count >= limits.smallest * of && low > limits.stray;
}

/** A mean that is further from ideal, to one side, than its ± and its smallest useful difference; null when it is not, or of too few. */
export function meanEvidence(
  rows: readonly CycleRow[],
  rule: { of: MeanName; side: 'below' | 'above'; smallest: number },
  instrument: Instrument,
  fewest: number,
): MeanEvidence | null {
  const values = rows.map((row) => valuesOf(row, rule.of)).filter((list) => list.length > 0);
  const value = mean(values.flat());
  if (value === null || values.length < fewest) return null;
  const { ideal } = MEANS[rule.of];
  const off = rule.side === 'below' ? ideal - value : value - ideal;
  if (off < rule.smallest) return null;
  const plusMinus = meanError(values, rule.of, instrument);
  if (plusMinus === null || off <= plusMinus) return null;
  const awayMs = rule.of === 'lagRatio' ? off * meanBeatMs(rows) : off;
  const { of, smallest } = rule;
  return { kind: 'mean', of, value, plusMinus, ideal, smallest, awayMs, cycles: values.length };
}

/** Is a cycle off on a rule's side by its smallest useful difference? Such are the rows that show it. */
export function isOff(
  row: CycleRow,
  { of, side, smallest }: { of: MeanName; side: 'below' | 'above'; smallest: number },
): boolean {
  const value = mean(valuesOf(row, of));
  if (value === null) return false;
  const { ideal } = MEANS[of];
  return (side === 'below' ? ideal - value : value - ideal) >= smallest;
}

const BEAT_MS = CYCLE_MS / 4;
const NORMAL_CYCLE_US = toUs(CYCLE_MS);

/** `steps`: q² ÷ 12 of each switch so many times in one value's variance; of the ratio at its ideal, in ms of a beat. */
const MEANS: Record<MeanName, { ideal: number; steps: { compressor: number; ventilator: number } }> = {
  lagRatio: { ideal: 1, steps: { compressor: 2.5, ventilator: 1 } },
  interval: { ideal: BEAT_MS, steps: { compressor: 2, ventilator: 0 } },
  start: { ideal: 0, steps: { compressor: 6, ventilator: 1 } },
};

/** A mean's values in one cycle: none unless it is three compressions and a breath, and of pace none in a slowed one. */
function valuesOf(row: CycleRow, of: MeanName): number[] {
  const timing = exactTiming(row);
  if (timing === null) return [];
  const { firstIntervalUs, secondIntervalUs, lagUs, breathUs } = timing;
  const twoIntervalsUs = firstIntervalUs + secondIntervalUs;
  if (of === 'lagRatio') return twoIntervalsUs === 0 ? [] : [(2 * lagUs) / twoIntervalsUs];
  if (row.idealUs > NORMAL_CYCLE_US) return [];
  if (of === 'interval') return [toMs(firstIntervalUs), toMs(secondIntervalUs)];
  const afterBreathMs = toMs(row.lengthUs - breathUs - twoIntervalsUs / 2);
  const afterThirdMs = toMs(row.lengthUs - breathUs + lagUs - twoIntervalsUs);
  return [lesserOf(afterBreathMs, afterThirdMs)];
}

/**
 * How far the next "one" is off, ms, early negative: the lesser of what is too much from the breath and from the third compression, and 0
 * when the two differ in sign. For an early or late breath makes one of them wrong without the compressor.
 */
function lesserOf(one: Ms, other: Ms): Ms {
  if (one * other <= 0) return 0;
  return Math.abs(one) < Math.abs(other) ? one : other;
}

function meanBeatMs(rows: readonly CycleRow[]): Ms {
  return mean(rows.flatMap((row) => valuesOf(row, 'interval'))) ?? BEAT_MS;
}

/**
 * ± of a mean as of every mean (plus-minus.ts). Under 20 cycles, where no blocks are, U is doubled: neighbours that correlate by 0.5 make
 * it 1.7 times as wide, and t of 11 degrees of freedom 1.1 times.
 */
function meanError(
  values: readonly (readonly number[])[],
  of: MeanName,
  { compressorStepMs, ventilatorStepMs, offsetErrorMs }: Instrument,
): number | null {
  const all = values.flat();
  const sd = sampleSd(all);
  if (sd === null) return null;
  const { compressor, ventilator } = MEANS[of].steps;
  const unit = of === 'lagRatio' ? BEAT_MS : 1;
  const stepVariance =
    (compressor * compressorStepMs ** 2 + ventilator * ventilatorStepMs ** 2) / 12 / unit ** 2;
  const offsetVariance = ventilator * (offsetErrorMs / 1.96 / unit) ** 2;
  const blockWidth = blockMeanError(values);
  const width = meanHalfWidth(
    { sd, n: all.length, blockWidth: blockWidth ?? 0 },
    stepVariance,
    offsetVariance,
  );
  return values.length < BLOCKS.fewest ? 2 * width : width;
}
