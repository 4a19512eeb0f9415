import type { Tolerance } from '../journal.ts';
import { interquartileRange, mean, median, sampleSd } from '../statistics/summary.ts';
import { theilSen } from '../statistics/theil-sen.ts';
import { toMs, type Us } from '../units.ts';
import { type CycleRow, type ExactTiming, exactTiming, isCoordinated, type RowPress } from './cycle-row.ts';
import { type Figure, figure, none } from './figure.ts';

/** Mean, spread and count of a list; each null with its reason when there are too few. */
export type Spread = { mean: Figure; sd: Figure; n: number };
export type SpreadWithCv = { mean: Figure; sd: Figure; cv: Figure; n: number };

/** Every figure of a set of rows, with the keys of design section 5. Times in ms, rates a minute, shares 0 to 1. */
export type Figures = {
  cycles: { total: number; exact: number; coordinated: number };
  coordinatedShare: Figure;
  /** Presses in complete cycles. */
  compressions: number;
  breaths: number;
  compressionsPerMin: Figure;
  breathsPerMin: Figure;
  eventsPerMin: Figure;
  cycleMs: { median: Figure; iqr: Figure; mean: Figure; sd: Figure; cv: Figure };
  cycleJitterMs: Figure;
  clash: { count: Figure; byBreath: Figure; byCompression: Figure; letGoLate: Figure; overlapMs: Figure };
  /** Third compression to breath; breath to the next start. Exact cycles; ideal T ÷ 4. */
  breathLagMs: Spread;
  restartLagMs: Spread;
  /** Lag by the mean interval of its triplet: the ventilator's own figure; ideal 1. */
  breathLagRatio: Spread;
  /** Where in the cycle the breath falls: the pair's figure; ideal 0.75. */
  breathPhase: Spread;
  compressor: { intervalMs: SpreadWithCv; tripletJitterMs: Figure; dwellMs: Spread; shortReleases: number };
  ventilator: { dwellMs: Spread; shortSqueezes: number };
  pauses: { fraction: Figure; longestMs: Figure; count: Figure };
};

/** Slope of cycle length on time, in % of the median cycle a minute; positive is slowing. Not called fatigue. */
export type PaceChange = { value: Figure; low: Figure; high: Figure };

/** Tool defaults: flags for the instructor to look, never faults. */
const SHORT_RELEASE_US = 100_000;
const SHORT_SQUEEZE_US = 200_000;
/** A pause is a gap of more than 0.75 T from a compression's release to the next (tool default). */
const PAUSE_HUNDREDTHS = 75;
const FEWEST_CYCLES_FOR_PACE = 30;

const NO_CYCLE = 'no complete cycle';
const NO_EXACT = 'no cycle of three compressions and a breath';

/** Figures of rows, one list a bout: neighbours never cross from one list to the next. */
export function figuresOf(bouts: readonly (readonly CycleRow[])[], tolerance: Tolerance): Figures {
  const rows = bouts.flat();
  const exact = bouts.flatMap((bout) => bout.map(exactOf).filter((cycle) => cycle !== null));
  const total = rows.length;
  const coordinated = rows.filter((row) => isCoordinated(row, tolerance)).length;
  const compressions = sum(rows, (row) => row.compressions.length);
  const breaths = sum(rows, (row) => row.breaths.length);
  const allUs = sum(rows, (row) => row.lengthUs);
  const perMin = (count: number) => ratio(count * 60_000_000, allUs, total);
  const intervals = exact.flatMap(({ timing }) => [timing.firstIntervalUs, timing.secondIntervalUs]);
  const compressionLengths = rows.flatMap((row) => lengths(row.compressions));
  const breathLengths = rows.flatMap((row) => lengths(row.breaths));
  return {
    cycles: { total, exact: exact.length, coordinated },
    coordinatedShare: ratio(coordinated, total, total),
    compressions,
    breaths,
    compressionsPerMin: perMin(compressions),
    breathsPerMin: perMin(breaths),
    eventsPerMin: perMin(compressions + breaths),
    cycleMs: lengthFigures(rows.map((row) => row.lengthUs)),
    cycleJitterMs: cycleJitter(bouts),
    clash: {
      count: measured(
        sum(rows, (row) => row.clash.count),
        total,
      ),
      byBreath: measured(
        sum(rows, (row) => row.clash.byBreath),
        total,
      ),
      byCompression: measured(
        sum(rows, (row) => row.clash.byCompression),
        total,
      ),
      letGoLate: measured(
        sum(rows, (row) => row.clash.letGoLate),
        total,
      ),
      overlapMs: measured(toMs(sum(rows, (row) => row.clash.overlapUs)), total),
    },
    breathLagMs: spreadMs(
      exact.map(({ timing }) => timing.lagUs),
      NO_EXACT,
    ),
    restartLagMs: spreadMs(
      exact.map(({ timing, lengthUs }) => lengthUs - timing.breathUs),
      NO_EXACT,
    ),
    breathLagRatio: spread(exact.map(({ timing }) => lagRatio(timing)).filter(Number.isFinite), 1, NO_EXACT),
    breathPhase: spread(
      exact.filter(({ lengthUs }) => lengthUs > 0).map(({ timing, lengthUs }) => timing.breathUs / lengthUs),
      1,
      NO_EXACT,
    ),
    compressor: {
      intervalMs: withCv(spreadMs(intervals, NO_EXACT)),
      tripletJitterMs: figure(
        scaled(
          sampleSd(exact.map(({ timing }) => timing.secondIntervalUs - timing.firstIntervalUs)),
          1000 * Math.SQRT2,
        ),
        'under two cycles of three compressions and a breath',
      ),
      dwellMs: spreadMs(compressionLengths, 'no press with a length'),
      shortReleases: sum(rows, (row) => shortReleasesOf(row.compressions)),
    },
    ventilator: {
      dwellMs: spreadMs(breathLengths, 'no press with a length'),
      shortSqueezes: sum(rows, (row) => shortSqueezesOf(row.breaths)),
    },
    pauses: pauseFigures(rows, allUs),
  };
}

/** The pace change over one bout's rows; from 30 cycles. */
export function paceChangeOf(rows: readonly CycleRow[]): PaceChange {
  if (rows.length < FEWEST_CYCLES_FOR_PACE) {
    const reason = `under ${FEWEST_CYCLES_FOR_PACE} cycles`;
    return { value: none(reason), low: none(reason), high: none(reason) };
  }
  const lengthsUs = rows.map((row) => row.lengthUs);
  const startUs = rows[0]?.startUs ?? 0;
  const { slope, low, high } = theilSen(
    rows.map((row) => row.startUs - startUs),
    lengthsUs,
  );
  const typical = median(lengthsUs);
  const percentPerMin = (value: number | null, reason: string) =>
    figure(value === null || typical === null ? null : ((value * 60_000_000) / typical) * 100, reason);
  const reason = 'no time passed';
  const intervalReason = slope === null ? reason : 'no interval over 1,000 cycles';
  return {
    value: percentPerMin(slope, reason),
    low: percentPerMin(low, intervalReason),
    high: percentPerMin(high, intervalReason),
  };
}

/** Gaps from a compression's release to the next compression that are over 0.75 T, in µs, of one row. */
export function pausesOf(row: CycleRow): Us[] {
  const onsets = [...row.compressions.slice(1).map((press) => press.onUs), row.lengthUs];
  return row.compressions
    .map((press, index) => (onsets[index] ?? 0) - press.offUs)
    .filter((gapUs) => 100 * gapUs > PAUSE_HUNDREDTHS * row.idealUs);
}

type ExactCycle = { timing: ExactTiming; lengthUs: Us };

function exactOf(row: CycleRow): ExactCycle | null {
  const timing = exactTiming(row);
  return timing === null ? null : { timing, lengthUs: row.lengthUs };
}

function lagRatio(timing: ExactTiming): number {
  return (2 * timing.lagUs) / (timing.firstIntervalUs + timing.secondIntervalUs);
}

/** √(Σ(d′ − d)² ÷ 2k) over the k neighbouring pairs of exact cycles. */
function cycleJitter(bouts: readonly (readonly CycleRow[])[]): Figure {
  let pairs = 0;
  let squares = 0;
  for (const bout of bouts) {
    let before: ExactCycle | null = null;
    for (const row of bout) {
      const cycle = exactOf(row);
      if (before !== null && cycle !== null) {
        pairs += 1;
        squares += (cycle.lengthUs - before.lengthUs) ** 2;
      }
      before = cycle;
    }
  }
  return figure(
    pairs < 2 ? null : Math.sqrt(squares / (2 * pairs)) / 1000,
    'under two neighbouring pairs of exact cycles',
  );
}

function pauseFigures(rows: readonly CycleRow[], allUs: Us): Figures['pauses'] {
  const gaps = rows.flatMap(pausesOf);
  const longestUs = gaps.reduce((longest, gap) => Math.max(longest, gap), 0);
  return {
    fraction: ratio(
      sum(gaps, (gap) => gap),
      allUs,
      rows.length,
    ),
    longestMs: measured(toMs(longestUs), rows.length),
    count: measured(gaps.length, rows.length),
  };
}

/** Compressions let up for under 100 ms before the next of the same cycle. */
export function shortReleasesOf(compressions: readonly RowPress[]): number {
  let count = 0;
  for (let index = 1; index < compressions.length; index += 1) {
    const before = compressions[index - 1];
    const press = compressions[index];
    if (before?.isMeasured && press && press.onUs - before.offUs < SHORT_RELEASE_US) count += 1;
  }
  return count;
}

/** Squeezes of under 200 ms. */
export function shortSqueezesOf(breaths: readonly RowPress[]): number {
  return lengths(breaths).filter((length) => length < SHORT_SQUEEZE_US).length;
}

function lengths(presses: readonly RowPress[]): Us[] {
  return presses.filter((press) => press.isMeasured).map((press) => press.offUs - press.onUs);
}

function lengthFigures(lengthsUs: readonly Us[]): Figures['cycleMs'] {
  const { mean, sd, cv } = withCv(spreadMs(lengthsUs, NO_CYCLE));
  return {
    median: figure(scaled(median(lengthsUs), 1000), NO_CYCLE),
    iqr: figure(scaled(interquartileRange(lengthsUs), 1000), 'under four cycles'),
    mean,
    sd,
    cv,
  };
}

function spreadMs(valuesUs: readonly Us[], reason: string): Spread {
  return spread(valuesUs, 1000, reason);
}

function spread(values: readonly number[], divisor: number, reason: string): Spread {
  return {
    mean: figure(scaled(mean(values), divisor), reason),
    sd: figure(scaled(sampleSd(values), divisor), values.length === 0 ? reason : 'only one value'),
    n: values.length,
  };
}

function withCv({ mean, sd, n }: Spread): SpreadWithCv {
  if (typeof mean !== 'number') return { mean, sd, cv: mean, n };
  return {
    mean,
    sd,
    cv: typeof sd === 'number' ? figure(mean === 0 ? null : sd / mean, 'the mean is 0') : sd,
    n,
  };
}

function scaled(value: number | null, divisor: number): number | null {
  return value === null ? null : value / divisor;
}

/** 0 is measured once there is a complete cycle. */
function measured(value: number, cycles: number): Figure {
  return cycles === 0 ? none(NO_CYCLE) : value;
}

function ratio(value: number, of: number, cycles: number): Figure {
  if (cycles === 0) return none(NO_CYCLE);
  return figure(of === 0 ? null : value / of, 'no time passed');
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  let total = 0;
  for (const item of items) total += of(item);
  return total;
}
