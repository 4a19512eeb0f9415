import {
  BLOCKS,
  BlockQuantiles,
  BlockSums,
  blockHalfWidths,
  type Resample,
} from '../statistics/block-bootstrap.ts';
import { mean } from '../statistics/summary.ts';
import { COUNTED, type Counted, type CycleValues, SPREAD, type SpreadName } from './cycle-values.ts';

/** The figures that have a half-width by blocks of cycles. Times in ms, rates a minute, shares 0 to 1. */
export const BLOCK_FIGURES = [
  'coordinatedShare',
  'compressionsPerMin',
  'breathsPerMin',
  'eventsPerMin',
  'cycleMedian',
  'cycleIqr',
  'cycleSd',
  'cycleCv',
  'cycleJitter',
  'clashes',
  'byBreath',
  'byCompression',
  'letGoLate',
  'overlapMs',
  'lagSd',
  'restartSd',
  'lagRatioSd',
  'phaseSd',
  'intervalSd',
  'intervalCv',
  'tripletJitter',
  'compressorDwellSd',
  'ventilatorDwellSd',
  'shortReleases',
  'shortSqueezes',
  'pauseFraction',
  'pauses',
  'cycleMean',
  'lagMean',
  'restartMean',
  'lagRatioMean',
  'phaseMean',
  'intervalMean',
  'compressorDwellMean',
  'ventilatorDwellMean',
] as const;
export type BlockFigure = (typeof BLOCK_FIGURES)[number];

/** The 95 % half-widths of those asked for, over cycles in order; NaN where a drawn series had no such figure. From 20 cycles. */
export function blockFigureErrors<Name extends BlockFigure>(
  cycles: readonly CycleValues[],
  names: readonly Name[],
): Record<Name, number> {
  const figuresOf = figuresOver(cycles);
  const widths = blockHalfWidths(cycles.length, (resample) => {
    const figures = figuresOf(resample);
    return names.map((name) => figures[name]());
  });
  return table(names, (_, index) => widths[index] ?? Number.NaN);
}

/** The 95 % half-width of the mean of cycles' values, one list a cycle and none empty, in order; null under 20 and over 3,000 cycles. */
export function blockMeanError(values: readonly (readonly number[])[]): number | null {
  if (values.length < BLOCKS.fewest || values.length > BLOCKS.most) return null;
  const { centre, columns } = centred(values);
  const sums = new BlockSums(columns);
  const [width] = blockHalfWidths(values.length, (resample) => {
    sums.draw(resample);
    return [meanAndSd(centre, sums, 0).mean];
  });
  return width ?? null;
}

/**
 * Draws a series from cycles and gives its figures, each worked out when it is asked for and until the next series is drawn;
 * NaN where there is none. With every cycle once, they are those of figures.ts.
 */
export function figuresOver(
  cycles: readonly CycleValues[],
): (resample: Resample) => Record<BlockFigure, () => number> {
  const n = cycles.length;
  const spreads = table(SPREAD, (name) => centred(cycles.map(({ spread }) => spread[name])));
  const sums = new BlockSums([
    ...COUNTED.map((name) => cycles.map(({ counted }) => counted[name])),
    ...SPREAD.flatMap((name) => spreads[name].columns),
  ]);
  const quantiles = new BlockQuantiles(cycles.map(({ counted }) => counted.lengthMs));
  const sum = (name: Counted) => sums.sumOf(COLUMN[name]);
  const of = (name: SpreadName) => meanAndSd(spreads[name].centre, sums, FIRST_COLUMN[name]);
  let quarters: readonly number[] = [];
  const quarter = (index: number) => quarters[index] ?? Number.NaN;
  const figures: Record<BlockFigure, () => number> = {
    coordinatedShare: () => sum('coordinated') / n,
    compressionsPerMin: () => (sum('compressions') * 60_000) / sum('lengthMs'),
    breathsPerMin: () => (sum('breaths') * 60_000) / sum('lengthMs'),
    eventsPerMin: () => ((sum('compressions') + sum('breaths')) * 60_000) / sum('lengthMs'),
    cycleMedian: () => quarter(1),
    cycleIqr: () => quarter(2) - quarter(0),
    cycleSd: () => of('cycle').sd,
    cycleCv: () => of('cycle').sd / of('cycle').mean,
    cycleJitter: () => Math.sqrt(sum('jitterSquares') / (2 * sum('jitterPairs'))),
    clashes: () => sum('clashes'),
    byBreath: () => sum('byBreath'),
    byCompression: () => sum('byCompression'),
    letGoLate: () => sum('letGoLate'),
    overlapMs: () => sum('overlapMs'),
    lagSd: () => of('lag').sd,
    restartSd: () => of('restart').sd,
    lagRatioSd: () => of('lagRatio').sd,
    phaseSd: () => of('phase').sd,
    intervalSd: () => of('interval').sd,
    intervalCv: () => of('interval').sd / of('interval').mean,
    tripletJitter: () => of('intervalChange').sd / Math.SQRT2,
    compressorDwellSd: () => of('compressorDwell').sd,
    ventilatorDwellSd: () => of('ventilatorDwell').sd,
    shortReleases: () => sum('shortReleases'),
    shortSqueezes: () => sum('shortSqueezes'),
    pauseFraction: () => sum('pauseMs') / sum('lengthMs'),
    pauses: () => sum('pauses'),
    cycleMean: () => of('cycle').mean,
    lagMean: () => of('lag').mean,
    restartMean: () => of('restart').mean,
    lagRatioMean: () => of('lagRatio').mean,
    phaseMean: () => of('phase').mean,
    intervalMean: () => of('interval').mean,
    compressorDwellMean: () => of('compressorDwell').mean,
    ventilatorDwellMean: () => of('ventilatorDwell').mean,
  };
  return (resample) => {
    sums.draw(resample);
    quarters = quantiles.over(resample, QUARTERS);
    return figures;
  };
}

const QUARTERS = [0.25, 0.5, 0.75] as const;

/** Which column is of a sum, and which the first of a spread: one for each sum, then three for each spread. */
const COLUMN = table(COUNTED, (_, index) => index);
const FIRST_COLUMN = table(SPREAD, (_, index) => COUNTED.length + 3 * index);

/** The number, sum and sum of squares of each cycle's values, about the mean of all, so that nothing is lost in rounding. */
function centred(values: readonly (readonly number[])[]): { centre: number; columns: number[][] } {
  const centre = mean(values.flat()) ?? 0;
  const total = (list: readonly number[], power: 1 | 2) =>
    list.reduce((sum, value) => sum + (value - centre) ** power, 0);
  return {
    centre,
    columns: [
      values.map((list) => list.length),
      values.map((list) => total(list, 1)),
      values.map((list) => total(list, 2)),
    ],
  };
}

/** Mean and sample sd of the values of the series drawn last, NaN where there are too few, from a spread's three columns. */
function meanAndSd(centre: number, sums: BlockSums, column: number): { mean: number; sd: number } {
  const n = sums.sumOf(column);
  const sum = sums.sumOf(column + 1);
  const squares = sums.sumOf(column + 2) - (sum * sum) / n;
  return {
    mean: centre + sum / n,
    sd: n < 2 ? Number.NaN : Math.sqrt(Math.max(0, squares) / (n - 1)),
  };
}

function table<const Name extends string, Value>(
  names: readonly Name[],
  of: (name: Name, index: number) => Value,
): Record<Name, Value> {
  return Object.fromEntries(names.map((name, index) => [name, of(name, index)])) as Record<Name, Value>;
}
