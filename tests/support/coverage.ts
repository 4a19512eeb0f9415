import { DEFAULT_PERSON } from '../../machines/rehearsal/people.ts';
import { type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import { replay } from '../../machines/replay.ts';
import type { CycleRow } from '../../machines/scoring/cycle-row.ts';
import { type Figure, numberOf } from '../../machines/scoring/figure.ts';
import { type Figures, figuresOf } from '../../machines/scoring/figures.ts';
import { type Instrument, instrumentOf } from '../../machines/scoring/instrument.ts';
import { meanHalfWidth, type PlusMinus, plusMinusOf } from '../../machines/scoring/plus-minus.ts';
import { rowsOf } from '../../machines/scoring/report.ts';
import { nextNormal, nextUniform, seedRandom } from '../../machines/statistics/random.ts';
import { offsetBetween } from '../../machines/switches/offset.ts';
import { exactRow } from './rows.ts';
import { CLEAN, stampsOf, tapsOf, together } from './switch-stream.ts';

/** How often the ± of a figure holds the truth, over drills whose truth is known. */

/** A simulated drill: rows of one bout, and what the switches add. */
export type SimulatedDrill = { rows: readonly CycleRow[]; instrument: Instrument };
export type Truth = Partial<Record<CoveredFigure, number>>;
/** Of the drills in which the figure had a ±: the share that held the truth. `of`: how many had one. */
export type Coverage = { share: number; of: number };

type Both = Figures | PlusMinus;
const PICK = {
  'cycleMs.mean': (f: Both) => f.cycleMs.mean,
  'breathLagMs.mean': (f: Both) => f.breathLagMs.mean,
  'breathLagRatio.mean': (f: Both) => f.breathLagRatio.mean,
  'breathPhase.mean': (f: Both) => f.breathPhase.mean,
  'compressor.intervalMs.mean': (f: Both) => f.compressor.intervalMs.mean,
  'compressor.dwellMs.mean': (f: Both) => f.compressor.dwellMs.mean,
  coordinatedShare: (f: Both) => f.coordinatedShare,
  compressionsPerMin: (f: Both) => f.compressionsPerMin,
  'cycleMs.median': (f: Both) => f.cycleMs.median,
  'cycleMs.iqr': (f: Both) => f.cycleMs.iqr,
  'cycleMs.sd': (f: Both) => f.cycleMs.sd,
  'cycleMs.cv': (f: Both) => f.cycleMs.cv,
  cycleJitterMs: (f: Both) => f.cycleJitterMs,
  'breathLagMs.sd': (f: Both) => f.breathLagMs.sd,
  'compressor.tripletJitterMs': (f: Both) => f.compressor.tripletJitterMs,
} satisfies Record<string, (figures: Both) => Figure>;
export type CoveredFigure = keyof typeof PICK;
export const COVERED = Object.keys(PICK) as CoveredFigure[];

export function coverageOf(drills: readonly SimulatedDrill[], truth: Truth): Map<CoveredFigure, Coverage> {
  const counts = new Map<CoveredFigure, { held: number; of: number }>();
  for (const { rows, instrument } of drills) {
    const figures = figuresOf([rows], 'standard');
    const plusMinus = plusMinusOf([rows], 'standard', instrument);
    for (const name of COVERED) {
      const wanted = truth[name];
      const value = numberOf(PICK[name](figures));
      const width = numberOf(PICK[name](plusMinus));
      if (wanted === undefined || value === null || width === null) continue;
      const count = counts.get(name) ?? { held: 0, of: 0 };
      counts.set(name, { held: count.held + (Math.abs(value - wanted) <= width ? 1 : 0), of: count.of + 1 });
    }
  }
  return new Map([...counts].map(([name, { held, of }]) => [name, { share: held / of, of }]));
}

/** The same for means whose ± would be U alone, as it is under 20 cycles: what the blocks add shows beside it. */
const U_ALONE = {
  'cycleMs.mean': ({ cycleMs, cycles }: Figures, { compressorStepMs: q }: Instrument) => ({
    spread: { mean: cycleMs.mean, sd: cycleMs.sd, n: cycles.total },
    variance: q ** 2 / 6,
  }),
  'breathLagMs.mean': ({ breathLagMs }: Figures, instrument: Instrument) => {
    const { compressorStepMs, ventilatorStepMs, offsetErrorMs } = instrument;
    const variance = (compressorStepMs ** 2 + ventilatorStepMs ** 2) / 12 + (offsetErrorMs / 1.96) ** 2;
    return { spread: breathLagMs, variance };
  },
};
export const BY_U_ALONE = Object.keys(U_ALONE) as (keyof typeof U_ALONE)[];
export function coverageByU(
  drills: readonly SimulatedDrill[],
  truth: Truth,
  name: keyof typeof U_ALONE,
): number {
  const wanted = truth[name] ?? Number.NaN;
  const held = drills.filter(({ rows, instrument }) => {
    const { spread, variance } = U_ALONE[name](figuresOf([rows], 'standard'), instrument);
    const [value, sd] = [numberOf(spread.mean) ?? Number.NaN, numberOf(spread.sd) ?? Number.NaN];
    return Math.abs(value - wanted) <= meanHalfWidth({ sd, n: spread.n }, variance);
  });
  return held.length / drills.length;
}

/** The truth as all drills together have it: its own error is that of one drill over √drills. */
export function pooledTruth(drills: readonly SimulatedDrill[]): Truth {
  const figures = figuresOf(
    drills.map(({ rows }) => rows),
    'standard',
  );
  return Object.fromEntries(COVERED.map((name) => [name, numberOf(PICK[name](figures)) ?? Number.NaN]));
}

/** Series of cycles whose lengths and lags hang together by `correlation` from one to the next, with the truth by arithmetic. */
export const SERIES = { lengthMs: 2000, lengthSdMs: 60, lagMs: 500, lagSdMs: 40, intervalSdMs: 15 } as const;
export function seriesDrill(
  seed: number,
  cycles: number,
  correlation: number,
  stepMs: number,
): SimulatedDrill {
  const random = seedRandom(seed, 41);
  const chain = (sd: number) => {
    let x = nextNormal(random);
    return () => {
      const now = x;
      x = correlation * x + Math.sqrt(1 - correlation ** 2) * nextNormal(random);
      return sd * now;
    };
  };
  const [length, lag] = [chain(SERIES.lengthSdMs), chain(SERIES.lagSdMs)];
  let startMs = 1000 * nextUniform(random);
  const rows = Array.from({ length: cycles }, () => {
    const fromMs = startMs;
    const second = fromMs + 500 + SERIES.intervalSdMs * nextNormal(random);
    const third = second + 500 + SERIES.intervalSdMs * nextNormal(random);
    const breath = third + SERIES.lagMs + lag();
    startMs = fromMs + SERIES.lengthMs + length();
    const from = (ms: number) => stepped(ms, stepMs) - stepped(fromMs, stepMs);
    return exactRow(from(startMs), from(second), from(third), from(breath));
  });
  return { rows, instrument: { compressorStepMs: stepMs, ventilatorStepMs: stepMs, offsetErrorMs: 0 } };
}
export function seriesTruth(correlation: number): Truth {
  return {
    'cycleMs.mean': SERIES.lengthMs,
    'cycleMs.median': SERIES.lengthMs,
    // Twice the normal distribution's upper quartile.
    'cycleMs.iqr': 2 * 0.674_489_750_196_081_7 * SERIES.lengthSdMs,
    'cycleMs.sd': SERIES.lengthSdMs,
    'cycleMs.cv': SERIES.lengthSdMs / SERIES.lengthMs,
    cycleJitterMs: SERIES.lengthSdMs * Math.sqrt(1 - correlation),
    'breathLagMs.mean': SERIES.lagMs,
    'breathLagMs.sd': SERIES.lagSdMs,
    'compressor.intervalMs.mean': 500,
    'compressor.tripletJitterMs': SERIES.intervalSdMs,
  };
}

/** A steady rehearsed drill by one and the same pair, which neither drifts nor is off the pace, so that all drills share a truth. */
export function rehearsedDrill(
  seed: number,
  minutes: number,
  options: Pick<RehearsalOptions, 'faultRates' | 'planted' | 'stepMs'>,
): SimulatedDrill {
  const { open, lines } = rehearse({ seed, minutes, plan: 'steady', pair: SAME_PAIR, ...options });
  return { rows: rowsIn(open, lines), instrument: instrumentOf(open, ['A']) };
}
const SAME = { ...DEFAULT_PERSON, paceOffPct: 0, driftPctPerMin: 0 };
const SAME_PAIR = { A: SAME, B: SAME };

/**
 * The same, played on a key and on an airway pad that is 20 ms late and looks every 8 ms. The offset is first found from ten
 * presses of both at once, 1.5 ms either way of each other, and then taken out.
 */
export function offsetDrill(seed: number, minutes: number): SimulatedDrill {
  const random = seedRandom(seed, 42);
  const pad = { ...CLEAN, pollMs: 8, lateMs: 20 };
  const taps = tapsOf(random, 10);
  const skewed = taps.map(({ onMs, offMs }) => ({ onMs: onMs + 3 * nextUniform(random) - 1.5, offMs }));
  const check = together(
    stampsOf(random, 'chest', taps, { ...CLEAN, clockMs: 1 }),
    stampsOf(random, 'airway', skewed, pad),
  );
  const found = offsetBetween(check, ['chest', 'airway'], [1, 8]);
  if (!('n' in found)) throw new Error(found.reason);
  const { open, lines } = rehearse({
    seed,
    minutes,
    plan: 'steady',
    pair: SAME_PAIR,
    planted: [],
    stepMs: 0,
  });
  const phaseMs = 8 * nextUniform(random);
  const late = (ms: number) => phaseMs + 20 + Math.ceil((ms - phaseMs) / 8) * 8;
  const played = lines
    .map((line) => {
      if (line.kind !== 'edge') return line;
      return { ...line, at: stepped(line.switch === 'airway' ? late(line.at) : line.at, 0.001) };
    })
    .sort((one, other) => timeOf(one) - timeOf(other));
  const switchOffset = { ...found, medianMs: stepped(found.medianMs, 0.001), applied: true };
  const sources = { chest: { kind: 'keyboard', stepMs: 0 }, airway: { kind: 'game-pad', stepMs: 8 } };
  const corrected = { ...open, switchOffset, sources };
  return { rows: rowsIn(corrected, played), instrument: instrumentOf(corrected, ['A']) };
}

type Played = ReturnType<typeof rehearse>;

function rowsIn(open: Played['open'], lines: Played['lines']): readonly CycleRow[] {
  const fold = replay(
    open,
    lines.map((line, index) => ({ number: index + 2, line })),
  );
  return fold.tracker.book.bouts.flatMap((bout) => rowsOf(fold, bout));
}

function timeOf(line: Played['lines'][number]): number {
  return line.kind === 'unknown' ? 0 : line.at;
}

function stepped(ms: number, stepMs: number): number {
  return stepMs === 0 ? ms : Math.round(Math.round(ms / stepMs) * stepMs * 1000) / 1000;
}
