import { nextUniform, seedRandom } from './random.ts';
import { studentT95 } from './student-t.ts';
import { sampleSd } from './summary.ts';

/**
 * Intervals for figures of a series whose neighbours hang together: a series is drawn again from blocks of
 * neighbours, wrapped round at its end so that each value is drawn as often as any other, and the figure's spread over
 * many such series is its error. Blocks: Künsch HR, Ann Stat 1989;17:1217-1241; the wrapping: Politis DN, Romano JP, A circular
 * block-resampling procedure for stationary data, in Exploring the Limits of Bootstrap, Wiley 1992 (both as sources of the method, from memory, not opened).
 */

/**
 * Tool defaults, the same for every drill, so that a journal gives the same interval wherever it is scored. Over 3,000 values
 * (100 minutes of cycles) none is worked out: it would take seconds, and be small.
 */
export const BLOCKS = { length: 5, resamples: 1000, seed: 1, fewest: 20, most: 3000 } as const;

/** One drawn series: where its blocks start among the n values. Each is `BLOCKS.length` long, the last one `lastLength(n)`. */
export type Resample = Int32Array;

/** How long the last block of a drawn series is: as long as makes n values in all, 1 to `BLOCKS.length`. */
export function lastLength(n: number): number {
  return n - (Math.ceil(n / BLOCKS.length) - 1) * BLOCKS.length;
}

/**
 * The 95 % half-width of each of some figures over n values in order: t(k − 1) √(k ÷ (k − 1)) × the sd over resamples,
 * k = n ÷ 5. `figuresOf` gives the figures of one drawn series, NaN where there is none, always as many; the series it is
 * given is overwritten by the next. All figures share the draws. NaN where a resample had none. Throws a RangeError under
 * `BLOCKS.fewest` values.
 */
export function blockHalfWidths(n: number, figuresOf: (resample: Resample) => ArrayLike<number>): number[] {
  if (n < BLOCKS.fewest) throw new RangeError(`${n} values, ${BLOCKS.fewest} are needed`);
  const random = seedRandom(BLOCKS.seed);
  const starts = new Int32Array(Math.ceil(n / BLOCKS.length));
  const values: number[][] = [];
  for (let draw = 0; draw < BLOCKS.resamples; draw += 1) {
    for (let block = 0; block < starts.length; block += 1)
      starts[block] = Math.floor(n * nextUniform(random));
    const figures = figuresOf(starts);
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

/**
 * Sums of columns of numbers over drawn series. The sums of every block there can be are known beforehand and lie side by
 * side, so that a drawn series costs one addition a block and column, through memory in order; and columns that are the
 * same (no clash, no pause; how many values a cycle has) are summed once.
 */
export class BlockSums {
  private readonly ofBlock: Float64Array;
  private readonly ofLast: Float64Array;
  private readonly sums: Float64Array;
  private readonly placeOf: readonly number[];

  /** Columns of n values each. */
  constructor(columns: readonly (readonly number[])[]) {
    const keys = columns.map((column) => column.join());
    const distinct = [...new Set(keys)];
    const width = distinct.length;
    this.placeOf = keys.map((key) => distinct.indexOf(key));
    const n = columns[0]?.length ?? 0;
    this.ofBlock = new Float64Array(n * width);
    this.ofLast = new Float64Array(n * width);
    this.sums = new Float64Array(width);
    const last = lastLength(n);
    for (const [place, key] of distinct.entries()) {
      const upTo = runningSums(columns[keys.indexOf(key)] ?? []);
      for (let start = 0; start < n; start += 1) {
        const before = upTo[start] ?? 0;
        this.ofBlock[start * width + place] = (upTo[start + BLOCKS.length] ?? 0) - before;
        this.ofLast[start * width + place] = (upTo[start + last] ?? 0) - before;
      }
    }
  }

  /** Sums every column over a drawn series, for `sumOf`. */
  draw(starts: Resample): void {
    const { sums } = this;
    const width = sums.length;
    sums.fill(0);
    for (let block = 0; block < starts.length; block += 1) {
      const from = block === starts.length - 1 ? this.ofLast : this.ofBlock;
      const row = (starts[block] ?? 0) * width;
      for (let place = 0; place < width; place += 1)
        sums[place] = (sums[place] ?? 0) + (from[row + place] ?? 0);
    }
  }

  /** A column's sum over the series drawn last. */
  sumOf(column: number): number {
    return this.sums[this.placeOf[column] ?? -1] ?? Number.NaN;
  }
}

/** The sum of the first 0, 1, 2 … values of a column that begins anew at its end, a block past it. */
function runningSums(column: readonly number[]): Float64Array {
  const upTo = new Float64Array(column.length + BLOCKS.length + 1);
  for (let index = 0; index < upTo.length - 1; index += 1)
    upTo[index + 1] = (upTo[index] ?? 0) + (column[index % column.length] ?? 0);
  return upTo;
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

  /** The quantiles for shares `ps`, 0 to 1; quickest in ascending order. */
  over(starts: Resample, ps: readonly number[]): number[] {
    this.count(starts);
    const n = this.sorted.length;
    let place = 0;
    let passed = this.counts[0] ?? 0;
    // The drawn value at a rank from 0, by a walk through the counts from where the last one was found.
    const valueAt = (rank: number) => {
      while (passed <= rank) {
        place += 1;
        passed += this.counts[place] ?? 0;
      }
      while (passed - (this.counts[place] ?? 0) > rank) {
        passed -= this.counts[place] ?? 0;
        place -= 1;
      }
      return this.sorted[place] ?? Number.NaN;
    };
    return ps.map((p) => {
      const at = (n - 1) * p;
      const below = valueAt(Math.floor(at));
      return at === Math.floor(at) ? below : below + (at - Math.floor(at)) * (valueAt(Math.ceil(at)) - below);
    });
  }

  /** How often each value was drawn. */
  private count(starts: Resample): void {
    const n = this.sorted.length;
    const last = lastLength(n);
    this.counts.fill(0);
    for (let block = 0; block < starts.length; block += 1) {
      const from = starts[block] ?? 0;
      const to = from + (block === starts.length - 1 ? last : BLOCKS.length);
      for (let index = from; index < to; index += 1) {
        const place = this.placeOf[index < n ? index : index - n] ?? 0;
        this.counts[place] = (this.counts[place] ?? 0) + 1;
      }
    }
  }
}
