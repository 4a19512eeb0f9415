import { BlockQuantiles, BlockSums, blockHalfWidths, type Resample } from '../statistics/block-bootstrap.ts';
import { mean } from '../statistics/summary.ts';
import { COUNTED, type Counted, type CycleValues, SPREAD, type SpreadName } from './cycle-values.ts';

/** The figures whose interval comes from blocks of cycles. Times in ms, rates a minute, shares 0 to 1. */
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
] as const;
export type BlockFigure = (typeof BLOCK_FIGURES)[number];

/** Their 95 % half-widths over cycles in order; NaN where a drawn series had no such figure. From 20 cycles. */
export function blockFigureErrors(cycles: readonly CycleValues[]): Record<BlockFigure, number> {
  const figuresOf = figuresOver(cycles);
  const widths = blockHalfWidths(cycles.length, (resample) => {
    const figures = figuresOf(resample);
    return BLOCK_FIGURES.map((name) => figures[name]);
  });
  return table(BLOCK_FIGURES, (_, index) => widths[index] ?? Number.NaN);
}

/** The figures of a series drawn from cycles, NaN where there is none; with every cycle once, those of figures.ts. */
export function figuresOver(
  cycles: readonly CycleValues[],
): (resample: Resample) => Record<BlockFigure, number> {
  const n = cycles.length;
  const counts = table(COUNTED, (name) => new BlockSums(cycles.map(({ counted }) => counted[name])));
  const spreads = table(SPREAD, (name) => new SpreadSums(cycles.map(({ spread }) => spread[name])));
  const quantiles = new BlockQuantiles(cycles.map(({ counted }) => counted.lengthMs));
  return (resample) => {
    const sum = (name: Counted) => counts[name].over(resample);
    const of = (name: SpreadName) => spreads[name].over(resample);
    const lengthMs = sum('lengthMs');
    const compressions = sum('compressions');
    const breaths = sum('breaths');
    const [low = Number.NaN, median = Number.NaN, high = Number.NaN] = quantiles.over(resample, QUARTERS);
    const cycle = of('cycle');
    const interval = of('interval');
    return {
      coordinatedShare: sum('coordinated') / n,
      compressionsPerMin: (compressions * 60_000) / lengthMs,
      breathsPerMin: (breaths * 60_000) / lengthMs,
      eventsPerMin: ((compressions + breaths) * 60_000) / lengthMs,
      cycleMedian: median,
      cycleIqr: high - low,
      cycleSd: cycle.sd,
      cycleCv: cycle.sd / cycle.mean,
      cycleJitter: Math.sqrt(sum('jitterSquares') / (2 * sum('jitterPairs'))),
      clashes: sum('clashes'),
      byBreath: sum('byBreath'),
      byCompression: sum('byCompression'),
      letGoLate: sum('letGoLate'),
      overlapMs: sum('overlapMs'),
      lagSd: of('lag').sd,
      restartSd: of('restart').sd,
      lagRatioSd: of('lagRatio').sd,
      phaseSd: of('phase').sd,
      intervalSd: interval.sd,
      intervalCv: interval.sd / interval.mean,
      tripletJitter: of('intervalChange').sd / Math.SQRT2,
      compressorDwellSd: of('compressorDwell').sd,
      ventilatorDwellSd: of('ventilatorDwell').sd,
      shortReleases: sum('shortReleases'),
      shortSqueezes: sum('shortSqueezes'),
      pauseFraction: sum('pauseMs') / lengthMs,
      pauses: sum('pauses'),
    };
  };
}

const QUARTERS = [0.25, 0.5, 0.75] as const;

/** Mean and sample sd of the values of a drawn series, from sums about the whole's mean, so that nothing is lost in rounding. */
class SpreadSums {
  private readonly centre: number;
  private readonly counts: BlockSums;
  private readonly sums: BlockSums;
  private readonly squares: BlockSums;

  constructor(values: readonly (readonly number[])[]) {
    const centre = mean(values.flat()) ?? 0;
    const total = (list: readonly number[], power: 1 | 2) =>
      list.reduce((sum, value) => sum + (value - centre) ** power, 0);
    this.centre = centre;
    this.counts = new BlockSums(values.map((list) => list.length));
    this.sums = new BlockSums(values.map((list) => total(list, 1)));
    this.squares = new BlockSums(values.map((list) => total(list, 2)));
  }

  over(resample: Resample): { mean: number; sd: number } {
    const n = this.counts.over(resample);
    const sum = this.sums.over(resample);
    const squares = this.squares.over(resample) - (sum * sum) / n;
    return {
      mean: this.centre + sum / n,
      sd: n < 2 ? Number.NaN : Math.sqrt(Math.max(0, squares) / (n - 1)),
    };
  }
}

function table<const Name extends string, Value>(
  names: readonly Name[],
  of: (name: Name, index: number) => Value,
): Record<Name, Value> {
  return Object.fromEntries(names.map((name, index) => [name, of(name, index)])) as Record<Name, Value>;
}
