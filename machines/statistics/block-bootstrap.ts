import { nextUniform, seedRandom } from './random.ts';
import { studentT95 } from './student-t.ts';
import { sampleSd } from './summary.ts';

/**
 * Intervals for figures of a series whose neighbours hang together: a series is drawn again from blocks of
 * neighbours, wrapped round at its end so that each value is drawn as often as any other, and the figure's spread over
 * many such series is its error. Blocks: Künsch HR, Ann Stat 1989;17:1217-1241; the wrapping: Politis DN, Romano JP, A circular
 * block-resampling procedure for stationary data, in Exploring the Limits of Bootstrap, Wiley 1992 (both as sources of the method, from memory, not opened).
 */

/** Tool defaults, the same for every drill, so that a journal gives the same interval wherever it is scored. */
export const BLOCKS = { length: 5, resamples: 1000, seed: 1, fewest: 20 } as const;

/** One drawn series: where its blocks start among the n values. Each is `BLOCKS.length` long, the last one `lastLength`. */
export type Resample = { starts: Int32Array; lastLength: number };

/**
 * The 95 % half-width of each of some figures over n values in order: t(k − 1) √(k ÷ (k − 1)) × the sd over resamples,
 * k = n ÷ 5. `figuresOf` gives the figures of one drawn series, NaN where there is none, always as many.
 * NaN where a resample had none. Throws a RangeError under `BLOCKS.fewest` values.
 */
export function blockHalfWidths(n: number, figuresOf: (resample: Resample) => ArrayLike<number>): number[] {
  if (n < BLOCKS.fewest) throw new RangeError(`${n} values, ${BLOCKS.fewest} are needed`);
  const blocks = Math.ceil(n / BLOCKS.length);
  const lastLength = n - (blocks - 1) * BLOCKS.length;
  const random = seedRandom(BLOCKS.seed);
  const starts = new Int32Array(blocks);
  const values: number[][] = [];
  for (let draw = 0; draw < BLOCKS.resamples; draw += 1) {
    for (let block = 0; block < blocks; block += 1) starts[block] = Math.floor(n * nextUniform(random));
    const figures = figuresOf({ starts, lastLength });
    for (let index = 0; index < figures.length; index += 1) {
      values[index] ??= [];
      values[index]?.push(figures[index] ?? Number.NaN);
    }
  }
  const k = n / BLOCKS.length;
  const factor = studentT95(k - 1) * Math.sqrt(k / (k - 1));
  return values.map((list) =>
    list.every(Number.isFinite) ? factor * (sampleSd(list) ?? Number.NaN) : Number.NaN,
  );
}

/** Sums over blocks of a column of numbers, each in constant time. */
export class BlockSums {
  private readonly upTo: Float64Array;

  constructor(column: readonly number[]) {
    const n = column.length;
    this.upTo = new Float64Array(n + n + 1);
    for (let index = 0; index < 2 * n; index += 1)
      this.upTo[index + 1] = (this.upTo[index] ?? 0) + (column[index % n] ?? 0);
  }

  /** The column's sum over a drawn series. */
  over({ starts, lastLength }: Resample): number {
    const last = starts.length - 1;
    let sum = 0;
    for (let block = 0; block <= last; block += 1) {
      const from = starts[block] ?? 0;
      const to = from + (block === last ? lastLength : BLOCKS.length);
      sum += (this.upTo[to] ?? 0) - (this.upTo[from] ?? 0);
    }
    return sum;
  }
}

/** Quantiles of type 7 over drawn series of a column. */
export class BlockQuantiles {
  private readonly sorted: Float64Array;
  private readonly placeOf: Int32Array;
  private readonly counts: Int32Array;

  constructor(column: readonly number[]) {
    const order = column
      .map((value, index) => ({ value, index }))
      .sort((one, other) => one.value - other.value);
    this.sorted = Float64Array.from(order, ({ value }) => value);
    this.placeOf = new Int32Array(column.length);
    for (const [place, { index }] of order.entries()) this.placeOf[index] = place;
    this.counts = new Int32Array(column.length);
  }

  /** The quantiles for shares `ps`, 0 to 1. */
  over({ starts, lastLength }: Resample, ps: readonly number[]): number[] {
    const n = this.sorted.length;
    this.counts.fill(0);
    for (let block = 0; block < starts.length; block += 1) {
      const length = block === starts.length - 1 ? lastLength : BLOCKS.length;
      for (let index = 0; index < length; index += 1) {
        const place = this.placeOf[((starts[block] ?? 0) + index) % n] ?? 0;
        this.counts[place] = (this.counts[place] ?? 0) + 1;
      }
    }
    return ps.map((p) => {
      const at = (n - 1) * p;
      const below = this.valueAt(Math.floor(at));
      return at === Math.floor(at)
        ? below
        : below + (at - Math.floor(at)) * (this.valueAt(Math.ceil(at)) - below);
    });
  }

  /** The drawn value at a rank from 0. */
  private valueAt(rank: number): number {
    let place = 0;
    for (let passed = this.counts[0] ?? 0; passed <= rank; passed += this.counts[place] ?? 0) place += 1;
    return this.sorted[place] ?? Number.NaN;
  }
}
