import { describe, expect, it } from 'vitest';
import type { CycleRow } from '../../../machines/scoring/cycle-row.ts';
import { figuresOf, paceChangeOf } from '../../../machines/scoring/figures.ts';
import { exactRow as exact, row } from '../../support/rows.ts';

/** Press lengths, pauses and pace, worked out by hand. T = 2000 ms; a row's presses are [onset, length] in ms. */
const figures = (...rows: CycleRow[]) => figuresOf([rows], 'standard');
const none = (reason: string) => ({ value: null, reason });

describe('press lengths', () => {
  it('are of complete cycles’ presses, without those whose release was lost', () => {
    const lost = row(
      2000,
      [
        [0, 900, false],
        [500, 200],
        [1000, 220],
      ],
      [[1500, 400]],
    );
    expect(figures(lost)).toMatchObject({ compressions: 3, compressor: { dwellMs: { mean: 210, n: 2 } } });
  });
  it.each([
    [400.001, 1], // let up for 99.999 ms before the compression at 500
    [400, 0],
  ])('a compression of %s ms before the next at 500: %s short releases', (length, count) => {
    const rows = row(
      2000,
      [
        [0, length],
        [500, 200],
        [1000, 200],
      ],
      [[1500, 400]],
    );
    expect(figures(rows).compressor.shortReleases).toBe(count);
  });
  it('a short release is not counted into the next cycle, nor after a lost release', () => {
    const intoNext = row(
      2000,
      [
        [0, 200],
        [500, 200],
        [1000, 950],
      ],
      [[1500, 400]],
    );
    const afterLost = row(
      2000,
      [
        [0, 450, false],
        [500, 200],
        [1000, 200],
      ],
      [[1500, 400]],
    );
    expect(figures(intoNext, afterLost).compressor.shortReleases).toBe(0);
  });
  it.each([
    [199.999, 1],
    [200, 0],
  ])('a breath of %s ms: %s short squeezes', (length, count) => {
    const rows = row(
      2000,
      [
        [0, 200],
        [500, 200],
        [1000, 200],
      ],
      [[1500, length]],
    );
    expect(figures(rows).ventilator.shortSqueezes).toBe(count);
  });
});

describe('pauses', () => {
  it.each([
    [2700, 0, 0], // 1000 + 200 let up; 2700 − 1200 = 1500 = 0.75 T
    [2700.001, 1, 1500.001],
  ])('with the next start at %s ms: %s', (length, count, longestMs) => {
    const { pauses } = figures(exact(length));
    expect([pauses.count, pauses.longestMs]).toEqual([count, longestMs]);
  });
  it('add up to a fraction of all cycles', () => {
    // Between compressions: 3000 − 700 = 2300. Before the next start: 6000 − 4200 = 1800. Of 6000 + 2000 ms.
    const stalled = row(
      6000,
      [
        [0, 200],
        [500, 200],
        [3000, 200],
        [4000, 200],
      ],
      [[4500, 400]],
    );
    expect(figures(stalled, exact(2000)).pauses).toEqual({
      fraction: (2300 + 1800) / 8000,
      longestMs: 2300,
      count: 2,
    });
  });
});

describe('cycles that took no time', () => {
  it('have no rate, phase or ratio, and no NaN', () => {
    const instant = row(
      0,
      [
        [0, 0],
        [0, 0],
        [0, 0],
      ],
      [[0, 0]],
    );
    const figure = figures(instant);
    expect([figure.compressionsPerMin, figure.pauses.fraction]).toEqual([
      none('no time passed'),
      none('no time passed'),
    ]);
    expect([figure.breathPhase.n, figure.breathLagRatio.n, figure.breathLagMs.n]).toEqual([0, 0, 1]);
    expect(figures(instant, instant).cycleMs.cv).toEqual(none('the mean is 0'));
    expect(paceChangeOf(Array.from({ length: 30 }, () => instant)).value).toEqual(none('no time passed'));
  });
});

describe('pace change', () => {
  /** d grows by 0.0005 ms with every ms: d_k = 2000 × 1.0005^k, starting where the cycles before end. */
  const slowing = (count: number) => {
    let startMs = 0;
    return Array.from({ length: count }, (_, k) => {
      const length = 2000 * 1.0005 ** k;
      const made = row(length, [], [], Math.round(startMs * 1000) / 1000);
      startMs += length;
      return made;
    });
  };
  it('is null under 30 cycles', () => {
    const few = none('under 30 cycles');
    expect(paceChangeOf(slowing(29))).toEqual({ value: few, low: few, high: few });
  });
  it('is the slope in % of the median cycle a minute', () => {
    // 0.0005 × 60 000 ÷ median × 100, median of k = 14 and 15: 2000 × (1.0005^14 + 1.0005^15) ÷ 2 = 2014.6.
    const median = (2000 * (1.0005 ** 14 + 1.0005 ** 15)) / 2;
    const { value, low, high } = paceChangeOf(slowing(30));
    expect(value).toBeCloseTo(3000 / median, 3);
    // All slopes are the same, but for rounding to whole µs.
    expect([low, high]).toEqual([expect.closeTo(3000 / median, 2), expect.closeTo(3000 / median, 2)]);
  });
  it('has no interval over 1,000 cycles', () => {
    const { value, low, high } = paceChangeOf(slowing(1001));
    expect(value).toEqual(expect.any(Number));
    expect([low, high]).toEqual([
      none('no interval over 1,000 cycles'),
      none('no interval over 1,000 cycles'),
    ]);
    expect(paceChangeOf(slowing(1000)).low).toEqual(expect.any(Number));
  });
});
