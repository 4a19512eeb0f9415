import { describe, expect, it } from 'vitest';
import {
  type CoveredFigure,
  coverageByU,
  coverageOf,
  pooledTruth,
  rehearsedDrill,
  seriesDrill,
  seriesTruth,
} from '../../support/coverage.ts';

/** A small copy of what the bench measures: 150 drills, so each share is good to three sds of 0.018, or 0.054. */
const SEEDS = Array.from({ length: 150 }, (_, seed) => seed);
const BY_BLOCK = [
  'cycleMs.median',
  'cycleMs.iqr',
  'cycleMs.sd',
  'cycleJitterMs',
  'breathLagMs.sd',
  'compressor.tripletJitterMs',
] as const satisfies readonly CoveredFigure[];
const share = (found: ReturnType<typeof coverageOf>, name: CoveredFigure) =>
  found.get(name)?.share ?? Number.NaN;

describe('over series of 30 cycles with switches of 1 ms', () => {
  const drills = [0, 0.3, 0.5].map((correlation) => ({
    correlation,
    all: SEEDS.map((seed) => seriesDrill(seed, 30, correlation, 1)),
    truth: seriesTruth(correlation),
  }));
  it('U alone would hold the mean in 95 % of drills when cycles are independent, and fall short as they hang together', () => {
    const shares = drills.map(({ all, truth }) => coverageByU(all, truth, 'cycleMs.mean'));
    const [independent = 0, some = 0, more = 0] = shares;
    expect(independent).toBeGreaterThan(0.88);
    // A correlation r makes the mean's variance (1 + r)/(1 − r) times s²/n: 1.96 of it is then 1.44 or 1.13 sds, 85 or 74 %.
    expect(Math.abs(some - 0.85)).toBeLessThan(0.09);
    expect(Math.abs(more - 0.74)).toBeLessThan(0.11);
  });
  it('± holds it in over 88 %, however cycles hang together, and in no fewer than U', () => {
    for (const { all, truth } of drills) {
      const found = share(coverageOf(all, truth), 'cycleMs.mean');
      expect(found).toBeGreaterThan(0.88);
      expect(found).toBeGreaterThanOrEqual(coverageByU(all, truth, 'cycleMs.mean'));
    }
  });
  it('blocks hold the other figures in over 85 % of drills, however cycles hang together', () => {
    for (const { all, truth } of drills) {
      const found = coverageOf(all, truth);
      expect(BY_BLOCK.filter((name) => !(share(found, name) > 0.85))).toEqual([]);
    }
  });
});

it('with switches of 8 ms, ± holds the means of a rehearsed pair, whose step is in it', () => {
  const drills = SEEDS.map((seed) => rehearsedDrill(seed, 1, { planted: [], stepMs: 8 }));
  const found = coverageOf(drills, pooledTruth(drills));
  const means = ['cycleMs.mean', 'compressor.intervalMs.mean', 'compressor.dwellMs.mean'] as const;
  expect(means.filter((name) => !(share(found, name) > 0.95))).toEqual([]);
});
