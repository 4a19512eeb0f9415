import type { Tolerance } from '../journal.ts';
import { BLOCKS } from '../statistics/block-bootstrap.ts';
import { mean, sampleSd } from '../statistics/summary.ts';
import { BLOCK_FIGURES, type BlockFigure, blockFigureErrors } from './block-figures.ts';
import type { CycleRow } from './cycle-row.ts';
import { type CycleValues, cycleValuesOf, type SpreadName } from './cycle-values.ts';
import { type Figure, none, numberOf } from './figure.ts';
import type { Instrument } from './instrument.ts';

/**
 * ± of figures: the half-width of a 95 % interval, in the figure's own unit, under the figure's own key. A figure that
 * has none here (counts of cycles and presses, the longest pause) is exact, or the greatest of its kind. Null with its reason.
 * Means: U = 1.96 √(s²/n + u²), s² less what the switches' steps add to it, u what the instrument itself may be off; and from 20 cycles
 * √(B² + (1.96 u)²) where that is more, B by circular blocks of 5 cycles (block-bootstrap.ts), since U takes cycles for independent
 * and neighbours are not. All others: those blocks alone, from 20 cycles.
 */
export type PlusMinus = {
  coordinatedShare: Figure;
  compressionsPerMin: Figure;
  breathsPerMin: Figure;
  eventsPerMin: Figure;
  cycleMs: { median: Figure; iqr: Figure; mean: Figure; sd: Figure; cv: Figure };
  cycleJitterMs: Figure;
  clash: { count: Figure; byBreath: Figure; byCompression: Figure; letGoLate: Figure; overlapMs: Figure };
  breathLagMs: MeanAndSd;
  restartLagMs: MeanAndSd;
  breathLagRatio: MeanAndSd;
  breathPhase: MeanAndSd;
  compressor: {
    intervalMs: MeanAndSd & { cv: Figure };
    tripletJitterMs: Figure;
    dwellMs: MeanAndSd;
    shortReleases: Figure;
  };
  ventilator: { dwellMs: MeanAndSd; shortSqueezes: Figure };
  pauses: { fraction: Figure; count: Figure };
};
type MeanAndSd = { mean: Figure; sd: Figure };
export type SteadinessPlusMinus = Pick<PlusMinus, 'coordinatedShare' | 'cycleMs' | 'cycleJitterMs'>;

const Z_95 = 1.96;

/** ± of the figures of the same rows, one list a bout. */
export function plusMinusOf(
  bouts: readonly (readonly CycleRow[])[],
  tolerance: Tolerance,
  instrument: Instrument,
): PlusMinus {
  const cycles = cycleValuesOf(bouts, tolerance);
  const block = blockPlusMinus(cycles, BLOCK_FIGURES);
  const meanOf = (name: MeanName) => meanPlusMinus(cycles, name, instrument, block(`${name}Mean`));
  const { coordinatedShare, cycleMs, cycleJitterMs } = steadinessOf(cycles, instrument, block);
  return {
    coordinatedShare,
    compressionsPerMin: block('compressionsPerMin'),
    breathsPerMin: block('breathsPerMin'),
    eventsPerMin: block('eventsPerMin'),
    cycleMs,
    cycleJitterMs,
    clash: {
      count: block('clashes'),
      byBreath: block('byBreath'),
      byCompression: block('byCompression'),
      letGoLate: block('letGoLate'),
      overlapMs: block('overlapMs'),
    },
    breathLagMs: { mean: meanOf('lag'), sd: block('lagSd') },
    restartLagMs: { mean: meanOf('restart'), sd: block('restartSd') },
    breathLagRatio: { mean: meanOf('lagRatio'), sd: block('lagRatioSd') },
    breathPhase: { mean: meanOf('phase'), sd: block('phaseSd') },
    compressor: {
      intervalMs: { mean: meanOf('interval'), sd: block('intervalSd'), cv: block('intervalCv') },
      tripletJitterMs: block('tripletJitter'),
      dwellMs: { mean: meanOf('compressorDwell'), sd: block('compressorDwellSd') },
      shortReleases: block('shortReleases'),
    },
    ventilator: {
      dwellMs: { mean: meanOf('ventilatorDwell'), sd: block('ventilatorDwellSd') },
      shortSqueezes: block('shortSqueezes'),
    },
    pauses: { fraction: block('pauseFraction'), count: block('pauses') },
  };
}

/** ± of how steady the pair is, alone: the same as of all figures, in a fraction of the time. */
export function steadinessPlusMinusOf(
  bouts: readonly (readonly CycleRow[])[],
  tolerance: Tolerance,
  instrument: Instrument,
): SteadinessPlusMinus {
  const cycles = cycleValuesOf(bouts, tolerance);
  return steadinessOf(cycles, instrument, blockPlusMinus(cycles, STEADINESS));
}

/** The three primary figures' ± alone: what the Ledger keeps of every drill, in a fraction of the time. */
export function primaryPlusMinusOf(
  bouts: readonly (readonly CycleRow[])[],
  tolerance: Tolerance,
  instrument: Instrument,
): { coordinatedShare: Figure; cycleJitterMs: Figure; breathLagRatio: Figure } {
  const cycles = cycleValuesOf(bouts, tolerance);
  const block = blockPlusMinus(cycles, ['coordinatedShare', 'cycleJitter', 'lagRatioMean']);
  return {
    coordinatedShare: block('coordinatedShare'),
    cycleJitterMs: block('cycleJitter'),
    breathLagRatio: meanPlusMinus(cycles, 'lagRatio', instrument, block('lagRatioMean')),
  };
}

const STEADINESS = [
  'coordinatedShare',
  'cycleMedian',
  'cycleIqr',
  'cycleMean',
  'cycleSd',
  'cycleCv',
  'cycleJitter',
] as const satisfies readonly BlockFigure[];

function steadinessOf(
  cycles: readonly CycleValues[],
  instrument: Instrument,
  block: (figure: (typeof STEADINESS)[number]) => Figure,
): SteadinessPlusMinus {
  return {
    coordinatedShare: block('coordinatedShare'),
    cycleMs: {
      median: block('cycleMedian'),
      iqr: block('cycleIqr'),
      mean: meanPlusMinus(cycles, 'cycle', instrument, block('cycleMean')),
      sd: block('cycleSd'),
      cv: block('cycleCv'),
    },
    cycleJitterMs: block('cycleJitter'),
  };
}

/** Figures of exact cycles need as many of those. */
const OF_EXACT_CYCLES: ReadonlySet<BlockFigure> = new Set([
  'cycleJitter',
  'lagSd',
  'restartSd',
  'lagRatioSd',
  'phaseSd',
  'intervalSd',
  'intervalCv',
  'tripletJitter',
  'lagMean',
  'restartMean',
  'lagRatioMean',
  'phaseMean',
  'intervalMean',
]);

function blockPlusMinus<Name extends BlockFigure>(
  cycles: readonly CycleValues[],
  names: readonly Name[],
): (figure: Name) => Figure {
  if (cycles.length < BLOCKS.fewest) return () => none(`under ${BLOCKS.fewest} cycles`);
  if (cycles.length > BLOCKS.most) return () => none(`over ${BLOCKS.most} cycles`);
  const exact = cycles.filter(({ isExact }) => isExact).length;
  const errors = blockFigureErrors(cycles, names);
  return (name) => {
    if (OF_EXACT_CYCLES.has(name) && exact < BLOCKS.fewest)
      return none(`under ${BLOCKS.fewest} cycles of three compressions and a breath`);
    const error = errors[name];
    if (!Number.isFinite(error)) return none('too few values');
    return error > NO_SPREAD ? error : none('the same throughout');
  };
}

/** Less than rounding leaves in a sum: a figure that no resample changes has no interval to show, rather than ± 0. */
const NO_SPREAD = 1e-9;

/** What a mean is shown of. */
type MeanName = Exclude<SpreadName, 'intervalChange'>;

/** ± of a mean, with what the steps add to one value's variance taken out of the spread and put into u; `byBlocks` is its half-width by blocks, if it has one. */
function meanPlusMinus(
  cycles: readonly CycleValues[],
  name: MeanName,
  instrument: Instrument,
  byBlocks: Figure,
): Figure {
  const values = cycles.flatMap(({ spread }) => spread[name]);
  const sd = sampleSd(values);
  if (sd === null) return none(values.length === 0 ? 'no value' : 'only one value');
  const { stepVariance, offsetVariance } = instrumentVariance(cycles, name, instrument);
  const blockWidth = numberOf(byBlocks) ?? 0;
  return meanHalfWidth({ sd, n: values.length, blockWidth }, stepVariance, offsetVariance);
}

/**
 * The larger of U = 1.96 √(s²/n + u²) and √(B² + (1.96 u)²): s² less the steps' variance, never below 0; u² the steps' variance and
 * the offset's; B the half-width by blocks, 0 where there is none. Blocks see how neighbours hang together, but a few of them may by luck agree
 * too well: never less than U, so that they do not make a mean look better than independent cycles would allow.
 */
export function meanHalfWidth(
  { sd, n, blockWidth = 0 }: { sd: number; n: number; blockWidth?: number },
  stepVariance: number,
  offsetVariance = 0,
): number {
  const ownVariance = Math.max(0, sd ** 2 - stepVariance);
  const ofIndependent = Z_95 * Math.sqrt(ownVariance / n + stepVariance + offsetVariance);
  const ofBlocks = Math.hypot(blockWidth, Z_95 * Math.sqrt(stepVariance + offsetVariance));
  return Math.max(ofIndependent, ofBlocks);
}

/**
 * What the instrument adds to the variance of one value, in the value's unit squared: q² ÷ 12 for every time it is made
 * of, by how much the value moves with that time; and the variance of the offset, where it is between two switches.
 */
function instrumentVariance(
  cycles: readonly CycleValues[],
  name: MeanName,
  { compressorStepMs, ventilatorStepMs, offsetErrorMs }: Instrument,
): { stepVariance: number; offsetVariance: number } {
  const compressor = compressorStepMs ** 2 / 12;
  const ventilator = ventilatorStepMs ** 2 / 12;
  const offset = (offsetErrorMs / Z_95) ** 2;
  const meanOf = (of: SpreadName) => mean(cycles.flatMap(({ spread }) => spread[of])) ?? 0;
  switch (name) {
    case 'cycle':
    case 'interval':
    case 'compressorDwell':
      return { stepVariance: 2 * compressor, offsetVariance: 0 };
    case 'ventilatorDwell':
      return { stepVariance: 2 * ventilator, offsetVariance: 0 };
    case 'lag':
    case 'restart':
      return { stepVariance: compressor + ventilator, offsetVariance: offset };
    case 'lagRatio': {
      // r = (b − c₃) ÷ ((c₃ − c₁) ÷ 2): moved by b as 1, by c₃ as −(1 + r/2), by c₁ as r/2, over the mean interval.
      const r = meanOf('lagRatio');
      const scale = meanOf('interval') ** 2;
      const step = ventilator + compressor * ((1 + r / 2) ** 2 + (r / 2) ** 2);
      return scale === 0
        ? { stepVariance: 0, offsetVariance: 0 }
        : { stepVariance: step / scale, offsetVariance: offset / scale };
    }
    case 'phase': {
      // p = (b − c₁) ÷ (c₁′ − c₁): moved by b as 1, by c₁ as −(1 − p), by c₁′ as −p, over the cycle's length.
      const p = meanOf('phase');
      const scale = meanOf('cycle') ** 2;
      const step = ventilator + compressor * ((1 - p) ** 2 + p ** 2);
      return scale === 0
        ? { stepVariance: 0, offsetVariance: 0 }
        : { stepVariance: step / scale, offsetVariance: offset / scale };
    }
  }
}

/** A figure with its ±; null where it has none. */
export type WithPlusMinus = { value: number; plusMinus: number | null };

/**
 * Do two figures agree within their ±? The ± of a difference of two is √(a² + b²); one that has none counts as exact, and with
 * neither the question has no answer: null. For figures of the same thing, in the same unit.
 */
export function areEqual(a: WithPlusMinus, b: WithPlusMinus): boolean | null {
  if (a.plusMinus === null && b.plusMinus === null) return null;
  return Math.abs(a.value - b.value) <= Math.hypot(a.plusMinus ?? 0, b.plusMinus ?? 0);
}
