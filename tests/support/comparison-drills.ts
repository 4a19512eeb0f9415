import { rehearse } from '../../machines/rehearsal/rehearse.ts';
import { replay } from '../../machines/replay.ts';
import {
  ALPHA,
  type Comparison,
  compare,
  comparisonsOf,
  PRIMARY,
  type PrimaryFigure,
} from '../../machines/scoring/comparisons.ts';
import type { CycleRow } from '../../machines/scoring/cycle-row.ts';
import { numberOf } from '../../machines/scoring/figure.ts';
import { figuresOf } from '../../machines/scoring/figures.ts';
import { reportOf } from '../../machines/scoring/report.ts';
import type { Stretch } from '../../machines/scoring/stretches.ts';
import { nextNormal, nextUniform, seedRandom } from '../../machines/statistics/random.ts';
import { studentT } from '../../machines/statistics/student-t.ts';
import { mean, sampleSd } from '../../machines/statistics/summary.ts';
import { openLine } from './journal-builder.ts';
import { exactRow } from './rows.ts';

/** Drills whose two sides are known to be alike, or to differ by so much, and what comparisons make of them. */

/** What is added to the sd of cycle lengths, to their mean and to the breath's lag, ms. */
export type Change = { lengthSdMs: number; lengthMs: number; lagMs: number };
export type SeriesOptions = {
  /** From one cycle to the next, within and across stretches. */
  correlation: number;
  stretches?: number;
  /** Cycles a stretch; `uneven`: 10 to 50 at random. */
  cycles?: number | 'uneven';
  /** What is added by the drill's end, in a straight line, or so that most of it comes early. */
  drift?: Change;
  isCurved?: boolean;
  /** What the second side has more. */
  effect?: Change;
};

/** About nine cycles in ten are coordinated. */
const BASE = { lengthMs: 2000, lengthSdMs: 120, lagMs: 500, lagSdMs: 60, intervalSdMs: 30 } as const;
const NONE: Change = { lengthSdMs: 0, lengthMs: 0, lagMs: 0 };

/** Two-thumb and two-finger by turns, two-thumb first, from a series of cycles whose neighbours correlate. */
export function seriesStretches(seed: number, options: SeriesOptions): Stretch[] {
  const { correlation, stretches = 6, cycles = 30, drift = NONE, effect = NONE } = options;
  const random = seedRandom(seed, 43);
  const chain = () => {
    let x = nextNormal(random);
    return () => {
      const now = x;
      x = correlation * x + Math.sqrt(1 - correlation ** 2) * nextNormal(random);
      return now;
    };
  };
  const [length, lag] = [chain(), chain()];
  return Array.from({ length: stretches }, (_, turn) => {
    const isSecond = turn % 2 === 1;
    const count = cycles === 'uneven' ? 10 + Math.floor(41 * nextUniform(random)) : cycles;
    const rows = Array.from({ length: count }, (_row, cycle): CycleRow => {
      const share = (turn + cycle / count) / stretches;
      const drifted = options.isCurved === true ? 1 - Math.exp(-4 * share) : share;
      const added = (name: keyof Change) => drifted * drift[name] + (isSecond ? effect[name] : 0);
      const second = 500 + BASE.intervalSdMs * nextNormal(random);
      const third = second + 500 + BASE.intervalSdMs * nextNormal(random);
      const lengthMs = BASE.lengthMs + added('lengthMs') + (BASE.lengthSdMs + added('lengthSdMs')) * length();
      return exactRow(lengthMs, second, third, third + BASE.lagMs + added('lagMs') + BASE.lagSdMs * lag());
    });
    return { value: isSecond ? 'two-finger' : 'two-thumb', runs: [rows] };
  });
}

export function seriesComparison(seed: number, options: SeriesOptions): Comparison {
  return compareTechniques(seriesStretches(seed, options));
}

export function compareTechniques(stretches: readonly Stretch[]): Comparison {
  const values = ['two-thumb', 'two-finger'] as const;
  return compare({ factor: 'technique', values, alike: {}, stretches }, openLine());
}

/**
 * Twelve stretches that are all alike, in which the compressor changes after every odd one and the technique after every even one: four
 * comparisons of three stretches a side, by turns, that share α with `shared` comparisons.
 */
export function fourComparisons(seed: number, options: SeriesOptions, shared = 4): Comparison[] {
  const [techniques, people] = [['two-thumb', 'two-finger'] as const, ['A', 'B'] as const];
  const parts = seriesStretches(seed, { ...options, stretches: 12 }).map(({ runs }, turn) => ({
    technique: techniques[Math.floor(turn / 2) % 2] ?? 'two-thumb',
    role: people[Math.floor((turn + 1) / 2) % 2] ?? 'A',
    runs,
  }));
  const byTechnique = people.map((role) =>
    compare(
      {
        factor: 'technique',
        values: techniques,
        alike: { role },
        stretches: parts
          .filter((part) => part.role === role)
          .map(({ technique, runs }) => ({ value: technique, runs })),
      },
      openLine(),
      shared,
    ),
  );
  const byRole = techniques.map((technique) =>
    compare(
      {
        factor: 'role',
        values: people,
        alike: { technique },
        stretches: parts
          .filter((part) => part.technique === technique)
          .map(({ role, runs }) => ({ value: role, runs })),
      },
      openLine(),
      shared,
    ),
  );
  return [...byTechnique, ...byRole];
}

/** In what share of drills, each with several comparisons whose sides are alike, an interval excludes 0, and a figure is called different. */
export function anyRatesOf(drills: readonly (readonly Comparison[])[]): {
  excludesZero: number;
  different: number;
} {
  const rates = drills.map((comparisons) =>
    ratesOf(comparisons, { coordinatedShare: 0, cycleJitterMs: 0, breathLagRatio: 0 }),
  );
  const share = (of: 'excludesZero' | 'different') =>
    rates.filter((one) => one[of].any > 0).length / drills.length;
  return { excludesZero: share('excludesZero'), different: share('different') };
}

/** Six minutes of a rehearsed pair, two-thumb and two-finger by turns three times, which makes no difference to it; people drift as they do. */
export function rehearsedComparison(seed: number, hasFaults: boolean): Comparison {
  const { open, lines } = rehearse({
    seed,
    minutes: 6,
    plan: 'techniques',
    ...(hasFaults ? {} : { planted: [] }),
  });
  const fold = replay(
    open,
    lines.map((line, index) => ({ number: index + 2, line })),
  );
  const found = comparisonsOf(reportOf(fold), fold).find(({ of }) => of === 'technique');
  if (found?.isByTurns !== true) throw new Error(`seed ${seed}: not three stretches a side`);
  return found;
}

/** What is true of the second side less the first, from very many cycles of a drill that does not drift. */
export function truthOf({ correlation, effect = NONE }: SeriesOptions): Record<PrimaryFigure, number> {
  const { sides } = seriesComparison(1, { correlation, effect, cycles: 50_000 });
  const of = (name: PrimaryFigure) => (numberOf(sides[1][name]) ?? 0) - (numberOf(sides[0][name]) ?? 0);
  return {
    coordinatedShare: of('coordinatedShare'),
    cycleJitterMs: of('cycleJitterMs'),
    breathLagRatio: of('breathLagRatio'),
  };
}

/** What plainer intervals on neighbouring differences would make of the breath lag: n − 1 that overlap, taken for independent, or the pairs that do not. */
export const PLAINER = { overlapping: 1, pairs: 2 } as const;
export function plainlyExcludesZero(stretches: readonly Stretch[], step: 1 | 2): boolean {
  const lags = stretches.map(
    ({ runs }) => numberOf(figuresOf(runs, 'standard').breathLagRatio.mean) ?? Number.NaN,
  );
  const differences = lags
    .slice(1)
    .map((lag, index) => (lag - (lags[index] ?? Number.NaN)) * (index % 2 === 0 ? 1 : -1))
    .filter((_, index) => index % step === 0);
  const n = differences.length;
  const error = (sampleSd(differences) ?? Number.NaN) / Math.sqrt(n);
  return Math.abs(mean(differences) ?? 0) > studentT(n - 1, 1 - ALPHA / PRIMARY.length) * error;
}

/** Shares of drills, 0 to 1. `any`: of the three figures at least one. */
export type Rates = {
  excludesZero: Record<PrimaryFigure | 'any', number>;
  different: Record<PrimaryFigure | 'any', number>;
  holds: Record<PrimaryFigure, number>;
};

export function ratesOf(comparisons: readonly Comparison[], truth: Record<PrimaryFigure, number>): Rates {
  const shareOf = (is: (comparison: Comparison) => boolean) =>
    comparisons.filter(is).length / comparisons.length;
  const each = <Name extends string>(names: readonly Name[], of: (name: Name) => number) =>
    Object.fromEntries(names.map((name) => [name, of(name)])) as Record<Name, number>;
  const withAny = (is: (comparison: Comparison, name: PrimaryFigure) => boolean) =>
    each([...PRIMARY, 'any'], (name) =>
      shareOf((one) => (name === 'any' ? PRIMARY.some((figure) => is(one, figure)) : is(one, name))),
    );
  const isWithin = (comparison: Comparison, name: PrimaryFigure, value: number) => {
    const { low, high } = comparison[name];
    return typeof low === 'number' && typeof high === 'number' && low <= value && value <= high;
  };
  return {
    excludesZero: withAny((one, name) => !isWithin(one, name, 0)),
    different: withAny((one, name) => one[name].verdict === 'different'),
    holds: each(PRIMARY, (name) => shareOf((one) => isWithin(one, name, truth[name]))),
  };
}
