import { describe, expect, it } from 'vitest';
import type { CycleRow } from '../../../machines/scoring/cycle-row.ts';
import { figuresOf } from '../../../machines/scoring/figures.ts';
import { exactRow as exact, inexactRow as inexact } from '../../support/rows.ts';

/** Every figure of a set of rows but lengths, pauses and pace, worked out by hand. */
const figures = (...rows: CycleRow[]) => figuresOf([rows], 'standard');
const none = (reason: string) => ({ value: null, reason });

describe('with no complete cycle', () => {
  it('counts are 0, and every share, rate, clash and pause is null', () => {
    const no = none('no complete cycle');
    const noExact = none('no cycle of three compressions and a breath');
    const noLength = none('no press with a length');
    expect(figures()).toEqual({
      cycles: { total: 0, exact: 0, coordinated: 0 },
      coordinatedShare: no,
      compressions: 0,
      breaths: 0,
      compressionsPerMin: no,
      breathsPerMin: no,
      eventsPerMin: no,
      cycleMs: { median: no, iqr: none('under four cycles'), mean: no, sd: no, cv: no },
      cycleJitterMs: none('under two neighbouring pairs of exact cycles'),
      clash: { count: no, byBreath: no, byCompression: no, letGoLate: no, overlapMs: no },
      breathLagMs: { mean: noExact, sd: noExact, n: 0 },
      restartLagMs: { mean: noExact, sd: noExact, n: 0 },
      breathLagRatio: { mean: noExact, sd: noExact, n: 0 },
      breathPhase: { mean: noExact, sd: noExact, n: 0 },
      compressor: {
        intervalMs: { mean: noExact, sd: noExact, cv: noExact, n: 0 },
        tripletJitterMs: none('under two cycles of three compressions and a breath'),
        dwellMs: { mean: noLength, sd: noLength, n: 0 },
        shortReleases: 0,
      },
      ventilator: { dwellMs: { mean: noLength, sd: noLength, n: 0 }, shortSqueezes: 0 },
      pauses: { fraction: no, longestMs: no, count: no },
    });
  });
});

describe('with one cycle', () => {
  const one = figures(exact(2000));
  it('0 is measured: clash and pauses', () => {
    expect(one.clash).toEqual({ count: 0, byBreath: 0, byCompression: 0, letGoLate: 0, overlapMs: 0 });
    expect(one.pauses).toEqual({ fraction: 0, longestMs: 0, count: 0 });
  });
  it('a mean and a median need one value, a spread two, the iqr four', () => {
    const single = none('only one value');
    expect(one.cycleMs).toEqual({
      median: 2000,
      iqr: none('under four cycles'),
      mean: 2000,
      sd: single,
      cv: single,
    });
    expect(one.breathLagMs).toEqual({ mean: 500, sd: single, n: 1 });
    expect(one.compressor.intervalMs).toEqual({ mean: 500, sd: 0, cv: 0, n: 2 });
    expect(one.compressor.tripletJitterMs).toEqual(
      none('under two cycles of three compressions and a breath'),
    );
    expect(figures(exact(2000), exact(2000), exact(2000)).cycleMs.iqr).toEqual(none('under four cycles'));
  });
  it('that is not exact has rates and lengths, but no lags', () => {
    // 1 compression and 1 breath in 1500 ms: 40 a minute each.
    const figure = figures(inexact(1500));
    expect([figure.compressionsPerMin, figure.breathsPerMin, figure.eventsPerMin]).toEqual([40, 40, 80]);
    expect(figure.cycleMs.mean).toBe(1500);
    expect(figure.coordinatedShare).toBe(0);
    expect(figure.breathLagMs).toEqual({
      mean: none('no cycle of three compressions and a breath'),
      sd: none('no cycle of three compressions and a breath'),
      n: 0,
    });
  });
});

describe('cycle lengths of 1900, 2000, 2100 and 2200 ms', () => {
  const four = figures(exact(1900), exact(2000), exact(2100), exact(2200));
  it('have median 2050 and iqr 150 by quantiles of type 7', () => {
    // h = (4 − 1) × 0.25 = 0.75: 1900 + 0.75 × 100 = 1975; h = 2.25: 2100 + 0.25 × 100 = 2125.
    expect(four.cycleMs).toMatchObject({ median: 2050, iqr: 150, mean: 2050 });
  });
  it('have the sample standard deviation', () => {
    // Squares 150² + 50² + 50² + 150² = 50 000, over 3.
    expect(four.cycleMs.sd).toBeCloseTo(Math.sqrt(50_000 / 3), 9);
    expect(four.cycleMs.cv).toBeCloseTo(Math.sqrt(50_000 / 3) / 2050, 12);
  });
  it('have a jitter of √(3 × 100² ÷ 6)', () => {
    expect(four.cycleJitterMs).toBeCloseTo(Math.sqrt(30_000 / 6), 9);
  });
  it('give 12 compressions and 4 breaths in 8200 ms', () => {
    expect(four.compressionsPerMin).toBeCloseTo((12 * 60_000) / 8200, 9);
    expect(four.breathsPerMin).toBeCloseTo((4 * 60_000) / 8200, 9);
    expect(four.eventsPerMin).toBeCloseTo((16 * 60_000) / 8200, 9);
  });
  it('have a restart lag of 550 ms on average, and phase 1500 ÷ d', () => {
    // 400, 500, 600, 700.
    expect(four.restartLagMs).toMatchObject({ mean: 550, n: 4 });
    expect(four.breathPhase.mean).toBeCloseTo(
      (1500 / 1900 + 1500 / 2000 + 1500 / 2100 + 1500 / 2200) / 4,
      12,
    );
  });
});

describe('cycle jitter', () => {
  it('takes neighbouring pairs of exact cycles only', () => {
    // 2000 2100 | inexact | 2000 2040 | : pairs of 100 and 40; √((10 000 + 1600) ÷ 4).
    const jitter = figures(exact(2000), exact(2100), inexact(2000), exact(2000), exact(2040)).cycleJitterMs;
    expect(jitter).toBeCloseTo(Math.sqrt(11_600 / 4), 9);
  });
  it('needs two pairs', () => {
    const few = none('under two neighbouring pairs of exact cycles');
    expect(figures(exact(2000), exact(2100)).cycleJitterMs).toEqual(few);
    expect(figures(exact(2000), inexact(2000), exact(2000), exact(2100)).cycleJitterMs).toEqual(few);
  });
  it('never crosses a bout', () => {
    const bouts = [
      [exact(2000), exact(2020)],
      [exact(2200), exact(2220)],
    ];
    // Two pairs of 20: √(800 ÷ 4). The step of 180 between the bouts is no pair.
    expect(figuresOf(bouts, 'standard').cycleJitterMs).toBeCloseTo(Math.sqrt(200), 9);
  });
});

describe('within the triplet', () => {
  // Intervals 480, 520 (breath 1500: lag 500) and 500, 460 (breath 1440: lag 480).
  const two = figures(exact(2000, 480, 1000, 1500), exact(2000, 500, 960, 1440));
  it('intervals are pooled', () => {
    // 480, 520, 500, 460: mean 490; squares 100 + 900 + 100 + 900 over 3.
    expect(two.compressor.intervalMs).toMatchObject({ mean: 490, n: 4 });
    expect(two.compressor.intervalMs.sd).toBeCloseTo(Math.sqrt(2000 / 3), 9);
    expect(two.compressor.intervalMs.cv).toBeCloseTo(Math.sqrt(2000 / 3) / 490, 12);
  });
  it('jitter is the spread of i₂ − i₁, over √2', () => {
    // 40 and −40: sd √(2 × 40²) = 56.57; over √2: 40.
    expect(two.compressor.tripletJitterMs).toBeCloseTo(40, 9);
  });
  it('the lag ratio is the lag by its own triplet', () => {
    // 500 ÷ 500 and 480 ÷ 480.
    expect(two.breathLagRatio).toEqual({ mean: 1, sd: 0, n: 2 });
    expect(two.breathLagMs).toMatchObject({ mean: 490, n: 2 });
  });
});

describe('the share of coordinated cycles', () => {
  it('is of all cycles, by the drill’s tolerance', () => {
    // Lengths 2000 (good), 2250 (first contact only), 2400 (neither), and an inexact one.
    const rows = [exact(2000), exact(2250), exact(2400), inexact(2000)];
    expect(figuresOf([rows], 'standard')).toMatchObject({
      cycles: { coordinated: 1 },
      coordinatedShare: 0.25,
    });
    expect(figuresOf([rows], 'first')).toMatchObject({ cycles: { coordinated: 2 }, coordinatedShare: 0.5 });
  });
});

describe('clashes', () => {
  it('are added up', () => {
    const clash = { count: 1, byBreath: 1, byCompression: 0, letGoLate: 1, overlapUs: 120_500 };
    const rows = [exact(2000), { ...exact(2000), clash }, { ...exact(2000), clash }];
    expect(figures(...rows).clash).toEqual({
      count: 2,
      byBreath: 2,
      byCompression: 0,
      letGoLate: 2,
      overlapMs: 241,
    });
    expect(figures(...rows).cycles.coordinated).toBe(1);
  });
});
