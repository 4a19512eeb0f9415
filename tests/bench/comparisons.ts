import type { PrimaryFigure } from '../../machines/scoring/comparisons.ts';
import {
  anyRatesOf,
  type Change,
  fourComparisons,
  PLAINER,
  plainlyExcludesZero,
  type Rates,
  ratesOf,
  rehearsedComparison,
  type SeriesOptions,
  seriesComparison,
  seriesStretches,
  truthOf,
} from '../support/comparison-drills.ts';

/** How often comparisons call a difference that is not there, find one that is, and hold the truth. */
const DRILLS = 2000;
const SEEDS = Array.from({ length: DRILLS }, (_, seed) => seed);
/** By the drill's end: half as uneven again, slower by 60 ms, the breath later by 100 ms. */
const DRIFT: Change = { lengthSdMs: 60, lengthMs: 60, lagMs: 100 };
/** About twice as uneven, the breath later by a fifth of an interval. */
const EFFECT: Change = { lengthSdMs: 100, lengthMs: 0, lagMs: 100 };
const ALIKE = { coordinatedShare: 0, cycleJitterMs: 0, breathLagRatio: 0 };

type Column = { title: string; rates: Rates; plainer: Record<keyof typeof PLAINER, number> };

export function sayComparisons(): void {
  const alike = [
    ...[0, 0.3, 0.5].flatMap((correlation) => [
      series(`r ${correlation}`, { correlation }),
      series('… drift', { correlation, drift: DRIFT }),
    ]),
    series('curved', { correlation: 0.3, drift: DRIFT, isCurved: true }),
    series('uneven', { correlation: 0.3, cycles: 'uneven' }),
    series('8 turns', { correlation: 0.3, stretches: 8, drift: DRIFT }),
    rehearsed('pair', false),
    rehearsed('faults', true),
  ];
  const planted = [0, 0.3, 0.5].flatMap((correlation) => [
    series(`r ${correlation}`, { correlation, effect: EFFECT }),
    series('… drift', { correlation, effect: EFFECT, drift: DRIFT }),
  ]);
  planted.push(series('8 turns', { correlation: 0.3, effect: EFFECT, stretches: 8 }));
  say(
    'both sides alike: % of drills in which the interval excludes 0 (5 allowed for any of the three)',
    alike,
    {
      rows: ['coordinatedShare', 'cycleJitterMs', 'breathLagRatio', 'any'],
      of: ({ excludesZero }, name) => excludesZero[name],
      hasPlainer: true,
    },
  );
  say('both sides alike: % of drills in which a figure is called different', alike, {
    rows: ['coordinatedShare', 'cycleJitterMs', 'breathLagRatio', 'any'],
    of: ({ different }, name) => different[name],
  });
  say('a difference planted: % of drills in which the interval excludes 0', planted, {
    rows: ['coordinatedShare', 'cycleJitterMs', 'breathLagRatio', 'any'],
    of: ({ excludesZero }, name) => excludesZero[name],
    hasPlainer: true,
  });
  say('a difference planted: % of drills in which a figure is called different', planted, {
    rows: ['coordinatedShare', 'cycleJitterMs', 'breathLagRatio', 'any'],
    of: ({ different }, name) => different[name],
  });
  say('a difference planted: % of drills in which the interval holds it (98.3 is claimed)', planted, {
    rows: ['coordinatedShare', 'cycleJitterMs', 'breathLagRatio'],
    of: ({ holds }, name) => (name === 'any' ? Number.NaN : holds[name]),
  });
  sayFour();
}

/** Four comparisons in a drill: as they are, and what they would do if each had α to itself. */
function sayFour(): void {
  console.log(
    `\nfour comparisons in a drill, all sides alike: % of ${DRILLS} drills in which any of the twelve intervals excludes 0, and any figure is called different`,
  );
  for (const correlation of [0, 0.3, 0.5])
    for (const [title, shared] of [
      ['α shared by the four', 4],
      ['α for each', 1],
    ] as const) {
      const rates = anyRatesOf(SEEDS.map((seed) => fourComparisons(seed, { correlation }, shared)));
      console.log(
        `r ${correlation}, ${title}`.padEnd(30) +
          [rates.excludesZero, rates.different].map((rate) => percent(rate).padStart(9)).join(''),
      );
    }
}

function series(title: string, options: SeriesOptions): Column {
  const truth = options.effect === undefined ? ALIKE : truthOf(options);
  const rates = ratesOf(
    SEEDS.map((seed) => seriesComparison(seed, options)),
    truth,
  );
  const plainly = (step: 1 | 2) =>
    SEEDS.filter((seed) => plainlyExcludesZero(seriesStretches(seed, options), step)).length / DRILLS;
  return {
    title,
    rates,
    plainer: { overlapping: plainly(PLAINER.overlapping), pairs: plainly(PLAINER.pairs) },
  };
}

function rehearsed(title: string, hasFaults: boolean): Column {
  const rates = ratesOf(
    SEEDS.map((seed) => rehearsedComparison(seed, hasFaults)),
    ALIKE,
  );
  return { title, rates, plainer: { overlapping: Number.NaN, pairs: Number.NaN } };
}

type Row = PrimaryFigure | 'any';
function say(
  title: string,
  columns: readonly Column[],
  {
    rows,
    of,
    hasPlainer = false,
  }: { rows: readonly Row[]; of: (rates: Rates, name: Row) => number; hasPlainer?: boolean },
): void {
  const line = (cells: readonly string[]) => cells.map((cell) => cell.padStart(9)).join('');
  console.log(
    `\n${title}, ${DRILLS} drills a column\n${''.padEnd(20)}${line(columns.map((column) => column.title))}`,
  );
  for (const name of rows) {
    console.log(`${name.padEnd(20)}${line(columns.map(({ rates }) => percent(of(rates, name))))}`);
  }
  if (!hasPlainer) return;
  for (const name of ['overlapping', 'pairs'] as const)
    console.log(
      `${`(lag, ${name})`.padEnd(20)}${line(columns.map(({ plainer }) => percent(plainer[name])))}`,
    );
}

function percent(share: number): string {
  return Number.isNaN(share) ? '–' : (100 * share).toFixed(1);
}
