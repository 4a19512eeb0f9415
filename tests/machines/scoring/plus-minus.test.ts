import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { replay } from '../../../machines/replay.ts';
import { figuresOver } from '../../../machines/scoring/block-figures.ts';
import { runsByCount } from '../../../machines/scoring/count-figures.ts';
import type { CycleRow } from '../../../machines/scoring/cycle-row.ts';
import { cycleValuesOf } from '../../../machines/scoring/cycle-values.ts';
import { type Figure, none, numberOf } from '../../../machines/scoring/figure.ts';
import { type Figures, figuresOf } from '../../../machines/scoring/figures.ts';
import { instrumentOf } from '../../../machines/scoring/instrument.ts';
import { areEqual, meanHalfWidth, plusMinusOf } from '../../../machines/scoring/plus-minus.ts';
import { reportOf, rowsOf } from '../../../machines/scoring/report.ts';
import { withPlusMinus } from '../../../machines/scoring/report-plus-minus.ts';
import { anyJournal } from '../../support/arbitrary-journal.ts';
import { JournalBuilder, openLine } from '../../support/journal-builder.ts';
import { exactRow, inexactRow } from '../../support/rows.ts';

const EXACT = { compressorStepMs: 0, ventilatorStepMs: 0, offsetErrorMs: 0 };
const of = (rows: readonly CycleRow[], instrument = EXACT) => plusMinusOf([rows], 'standard', instrument);
const times = <T extends CycleRow | number>(count: number, ...all: T[]) =>
  Array.from({ length: count }, () => all).flat();

describe('± of a mean', () => {
  // Lengths 1900 and 2100: s² = 20 000 over n = 2; lags 500; dwell 200.
  const two = [exactRow(1900), exactRow(2100)];
  it('is 1.96 √(s²/n) with an instrument that adds nothing', () => {
    expect(of(two).cycleMs.mean).toBeCloseTo(1.96 * Math.sqrt(20_000 / 2), 9);
    expect(of(two).breathLagMs.mean).toBe(0);
  });
  it('has the step’s q²/6 taken out of the spread, and put into u', () => {
    const eight = { ...EXACT, compressorStepMs: 8, ventilatorStepMs: 8 };
    const step = 64 / 6;
    expect(of(two, eight).cycleMs.mean).toBeCloseTo(1.96 * Math.sqrt((20_000 - step) / 2 + step), 9);
  });
  it('never takes out more than there is', () => {
    const eight = { ...EXACT, compressorStepMs: 8, ventilatorStepMs: 8 };
    expect(of(two, eight).breathLagMs.mean).toBeCloseTo(1.96 * Math.sqrt(64 / 6), 9);
    expect(of(two, eight).compressor.dwellMs.mean).toBeCloseTo(1.96 * Math.sqrt(64 / 6), 9);
  });
  it('between two switches has the step of each, and the offset’s error', () => {
    const mixed = { compressorStepMs: 1, ventilatorStepMs: 8, offsetErrorMs: 5 };
    const u = Math.sqrt(65 / 12 + (5 / 1.96) ** 2);
    expect(of(two, mixed).breathLagMs.mean).toBeCloseTo(1.96 * u, 9);
    expect(of(two, mixed).ventilator.dwellMs.mean).toBeCloseTo(1.96 * Math.sqrt(64 / 6), 9);
  });
  it('of a ratio and a phase follows their slopes by each time', () => {
    const cycles = [exactRow(2000), exactRow(2000)];
    const airway = { ...EXACT, ventilatorStepMs: 6 };
    // The breath alone is coarse: q/√12 over the mean interval of 500, or the cycle of 2000.
    expect(of(cycles, airway).breathLagRatio.mean).toBeCloseTo((1.96 * 6) / Math.sqrt(12) / 500, 12);
    expect(of(cycles, airway).breathPhase.mean).toBeCloseTo((1.96 * 6) / Math.sqrt(12) / 2000, 12);
    const chest = { ...EXACT, compressorStepMs: 6 };
    // r = 1: c₃ moves it by 1.5, c₁ by 0.5. p = 0.75: c₁ by 0.25, the next by 0.75.
    expect(of(cycles, chest).breathLagRatio.mean).toBeCloseTo((1.96 * 6 * Math.sqrt(2.5 / 12)) / 500, 12);
    expect(of(cycles, chest).breathPhase.mean).toBeCloseTo((1.96 * 6 * Math.sqrt(0.625 / 12)) / 2000, 12);
  });
  it('needs two values', () => {
    expect(of([exactRow(2000)]).cycleMs.mean).toEqual(none('only one value'));
    expect(of([inexactRow(2000)]).breathLagMs.mean).toEqual(none('no value'));
  });
});

describe('± of a mean with a half-width B by blocks is the larger of U and √(B² + (1.96 u)²)', () => {
  // s = 10, n = 25: U = 1.96 × 2 = 3.92 of independent cycles; a step's variance of 4, u = 2: 1.96 √(96/25 + 4) = 5.4880.
  it.each([
    { what: 'no B', blockWidth: undefined, step: 0, offset: 0, is: 3.92 },
    { what: 'B under U', blockWidth: 3.9, step: 0, offset: 0, is: 3.92 },
    { what: 'B over U', blockWidth: 4, step: 0, offset: 0, is: 4 },
    { what: 'no B, a step', blockWidth: undefined, step: 4, offset: 0, is: 5.488 },
    { what: 'B under, a step', blockWidth: 3.84, step: 4, offset: 0, is: 5.488 },
    // √(3 ² + 3.92²) is under 5.4880, √(4² + 3.92²) over it.
    { what: 'B well under, a step', blockWidth: 3, step: 4, offset: 0, is: 5.488 },
    { what: 'B over, a step', blockWidth: 4, step: 4, offset: 0, is: Math.hypot(4, 3.92) },
    { what: 'B over, an offset', blockWidth: 4, step: 0, offset: 4, is: Math.hypot(4, 3.92) },
    { what: 'B over, a step and an offset', blockWidth: 12, step: 4, offset: 5, is: Math.hypot(12, 5.88) },
  ])('$what', ({ blockWidth, step, offset, is }) => {
    const spread = blockWidth === undefined ? { sd: 10, n: 25 } : { sd: 10, n: 25, blockWidth };
    expect(meanHalfWidth(spread, step, offset)).toBeCloseTo(is, 9);
  });

  // Lengths 100 either side of 2000: s² = 20 × 10 000 ÷ 19, U = 1.96 √(10 000/19) = 44.97 over 20.
  const u20 = 1.96 * Math.sqrt(10_000 / 19);
  const slowing = [...times(10, exactRow(1900)), ...times(10, exactRow(2100))];
  it('cycles that hang together: B', () => {
    // Of the 20 blocks of five there are, 12 have a mean of ± 100, four ± 60, four ± 20: variance 6800; the mean of four 1700.
    // t(3) √(4/3) √1700 = 3.1824 × 1.1547 × 41.23 = 151.5; a thousand draws know it to 7 %, three of their sds.
    const width = Number(of(slowing).cycleMs.mean);
    expect(Math.abs(width / 151.5 - 1)).toBeLessThan(0.07);
  });
  it('and with switches of 8 ms, √(B² + (1.96 u)²)', () => {
    const width = Number(of(slowing).cycleMs.mean);
    const eight = of(slowing, { ...EXACT, compressorStepMs: 8 });
    expect(eight.cycleMs.mean).toBeCloseTo(Math.hypot(width, 1.96 * Math.sqrt(64 / 6)), 9);
  });
  it('cycles that make up for each other: U', () => {
    // Blocks of five by turns are ± 20: t(3) √(4/3) √(400/4) = 36.7, under U.
    expect(of(times(10, exactRow(1900), exactRow(2100))).cycleMs.mean).toBeCloseTo(u20, 9);
  });
  it('no block differs: U', () => {
    expect(of(times(20, exactRow(2000))).breathLagMs.mean).toBe(0);
  });
  it('under 20 cycles: U, however they hang together', () => {
    const { mean } = of(slowing.slice(1)).cycleMs;
    // Nine of 1900, ten of 2100: s² = 19 × 10 000 × (1 − 1/19²) ÷ 18.
    expect(mean).toBeCloseTo(1.96 * Math.sqrt((10_000 * (1 - 1 / 361)) / 18), 9);
  });
  it('of exact cycles: U until 20 of those', () => {
    const lag = (ms: number) => exactRow(2000, 500, 1000, 1000 + ms);
    const lags = (count: number) => [
      ...times(10, lag(400)),
      ...times(count, lag(600)),
      ...times(5, inexactRow(2000)),
    ];
    const u19 = 1.96 * Math.sqrt((10_000 * (1 - 1 / 361)) / 18);
    expect(of(lags(9)).breathLagMs.mean).toBeCloseTo(u19, 9);
    expect(of(lags(10)).breathLagMs.mean).toBeGreaterThan(2 * u20);
  });
});

describe('± of a mean asynchrony to the heard beat', () => {
  /** Of breaths so far from their beat, compressions on theirs, with switches of `stepMs`. */
  const errorsOf = (offsMs: readonly number[], stepMs: number) => {
    const source = { kind: 'keyboard', stepMs };
    const builder = new JournalBuilder({ sources: { chest: source, airway: source } });
    builder.call(0, 'begin').line({
      kind: 'count',
      at: 500,
      what: 'given',
      by: 'sound',
      fromMs: 1000,
      beat: 'one',
      cycleMs: 2000,
      outputLatencyMs: 10,
      errorMs: 0.1,
    });
    for (const [index, off] of [...offsMs, 0].entries()) {
      const at = 1000 + 2000 * index;
      builder.cycle([at, at + 500, at + 1000], at + 1500 + off);
    }
    const fold = replay(builder.open, builder.lines);
    const { asynchronyMs, plusMinus } = withPlusMinus(reportOf(fold), fold).drill.count;
    return { n: asynchronyMs.ventilator.n, ...plusMinus?.asynchronyMs };
  };
  const changed = [...times(10, -40), ...times(10, 40)];
  it('from 20 cycles comes from the same blocks as other means', () => {
    // The same shape as cycles of 1900 and then 2100 ms, 0.4 times as far from its mean.
    const cycles = of([...times(10, exactRow(1900)), ...times(10, exactRow(2100))]).cycleMs.mean;
    const { n, ventilator, compressor } = errorsOf(changed, 0);
    expect([n, compressor]).toEqual([20, 0]);
    expect(ventilator).toBeCloseTo(0.4 * Number(cycles), 9);
    expect(errorsOf(changed, 6).ventilator).toBeCloseTo(
      Math.hypot(Number(ventilator), 1.96 * Math.sqrt(3)),
      9,
    );
    expect(errorsOf(changed, 6).compressor).toBeCloseTo(1.96 * Math.sqrt(3), 9);
  });
  it('is U under 20', () => {
    const { n, ventilator } = errorsOf(changed.slice(1), 0);
    expect(n).toBe(19);
    expect(ventilator).toBeCloseTo(1.96 * Math.sqrt((1600 * (1 - 1 / 361)) / 18), 9);
  });
});

describe('a step adds q²/12 to a time', () => {
  it('as the integral of x²/q over a step, and twice that to an interval', () => {
    // Rounding error is uniform over ± q/2: ∫ x²/q dx = q²/12, here by the midpoints of a thousand parts.
    const q = 8;
    const parts = Array.from({ length: 1000 }, (_, index) => ((index + 0.5) / 1000 - 0.5) * q);
    const variance = parts.reduce((sum, x) => sum + x * x, 0) / parts.length;
    expect(variance).toBeCloseTo(q ** 2 / 12, 4);
    // And so in plusMinusOf: equal lengths leave U = 1.96 √(2 × q²/12).
    const all = of([exactRow(2000), exactRow(2000)], { ...EXACT, compressorStepMs: q });
    expect(all.cycleMs.mean).toBeCloseTo(1.96 * Math.sqrt(2 * variance), 3);
  });
});

describe('± of the other figures', () => {
  it('comes from 20 cycles on, and else says so', () => {
    const cycle = [exactRow(1950), exactRow(2080)];
    expect(of(times(9, ...cycle)).cycleJitterMs).toEqual(none('under 20 cycles'));
    expect(of(times(10, ...cycle)).cycleMs.median).toBeGreaterThan(0);
  });
  it('is not said of what was the same throughout', () => {
    const all = of(times(20, exactRow(2000)));
    expect([all.coordinatedShare, all.cycleMs.median, all.clash.count]).toEqual(
      times3(none('the same throughout')),
    );
  });
  it('needs 20 exact cycles where the figure is of those', () => {
    const all = of([...times(19, exactRow(1950)), ...times(5, inexactRow(2080))]);
    expect(all.breathLagMs.sd).toEqual(none('under 20 cycles of three compressions and a breath'));
    expect(all.cycleMs.sd).toBeGreaterThan(0);
  });
  it('is of the same figures: with every cycle once, a drawn series gives those of figures.ts', () => {
    let compared = 0;
    fc.assert(
      fc.property(anyJournal(), ({ open, lines }) => {
        const fold = replay(open, lines);
        compared += compareWithFigures(fold.tracker.book.bouts.map((bout) => rowsOf(fold, bout)));
      }),
      { numRuns: 400, seed: 5 },
    );
    expect(compared).toBeGreaterThan(2000);
  });
});

describe('a report', () => {
  const { open, lines } = rehearse({ seed: 4, minutes: 2, plan: 'two-minutes-and-swap' });
  const fold = replay(
    open,
    lines.map((line, index) => ({ number: index + 2, line })),
  );
  const plain = reportOf(fold);
  const whole = withPlusMinus(plain, fold);
  it('has no ± until it is asked for, and then beside every set of figures', () => {
    expect(JSON.stringify(plain)).not.toContain('plusMinus');
    const sets = [
      whole.drill,
      ...whole.bouts,
      ...Object.values(whole.drill.people).flatMap((one) => [one.compressor, one.ventilator]),
    ];
    expect(sets).toHaveLength(7);
    expect(sets.every(({ plusMinus }) => typeof plusMinus?.cycleMs.mean === 'number')).toBe(true);
  });
  it('has it beside both sides of the count, whose cycles are too few here', () => {
    const { withCount, withoutCount, plusMinus } = whole.drill.count;
    expect(withCount.plusMinus?.cycleMs.median).toEqual(none('under 20 cycles'));
    expect(withoutCount.plusMinus?.cycleMs.median).toBeGreaterThan(0);
    expect(plusMinus?.asynchronyMs.compressor).toEqual(plain.drill.count.asynchronyMs.compressor.sd);
  });
  it('has it of the rows of each side, also where one side has them all', () => {
    const rows = fold.tracker.book.bouts.map((bout) => rowsOf(fold, bout));
    const { withoutCount } = runsByCount(rows, fold.beats);
    expect(withoutCount.flat()).toHaveLength(plain.drill.cycles.total);
    const step = { compressorStepMs: 1, ventilatorStepMs: 1, offsetErrorMs: 0 };
    expect(plusMinusOf(withoutCount, 'standard', step)).toMatchObject(
      whole.drill.count.withoutCount.plusMinus ?? {},
    );
  });
  it('keeps every other key as it was, but for the comparisons, which come with it', () => {
    const { comparisons, ...rest } = whole;
    expect(
      JSON.parse(JSON.stringify(rest, (key, value) => (key === 'plusMinus' ? undefined : value))),
    ).toEqual(JSON.parse(JSON.stringify({ ...plain, comparisons: undefined })));
    expect([plain.comparisons, comparisons.map(({ of }) => of)]).toEqual([[], ['role']]);
  });
  it('has the ± of each set’s own rows', () => {
    const rows = fold.tracker.book.bouts.map((bout) => rowsOf(fold, bout));
    const step = { compressorStepMs: 1, ventilatorStepMs: 1, offsetErrorMs: 0 };
    expect(whole.drill.plusMinus).toEqual(plusMinusOf(rows, 'standard', step));
    expect(whole.bouts[1]?.plusMinus).toEqual(plusMinusOf(rows.slice(1), 'standard', step));
    expect(whole.drill.people.B.compressor.plusMinus).toEqual(whole.bouts[1]?.plusMinus);
  });
  it('tells a bout without a complete cycle from the one after it', () => {
    const journal = new JournalBuilder().call(0, 'begin').press('chest', 1000, 1200).call(2000, 'rest');
    const { bouts } = journal.call(3000, 'resume').ideal(4000, 4).call(13_000, 'finish').report();
    expect(bouts.map(({ cycles }) => cycles.total)).toEqual([0, 3]);
  });
});

describe('the instrument', () => {
  const sources = (first: number, second: number) => ({
    A: { kind: 'keyboard', stepMs: first },
    B: { kind: 'game-pad', stepMs: second },
  });
  it('has the step of the switch each role had', () => {
    const open = openLine({ binding: 'person', sources: sources(1, 8) });
    expect(instrumentOf(open, ['B', 'B'])).toEqual({
      compressorStepMs: 8,
      ventilatorStepMs: 1,
      offsetErrorMs: 0,
    });
    expect(instrumentOf(open, ['A', 'B'])).toEqual({
      compressorStepMs: 8,
      ventilatorStepMs: 8,
      offsetErrorMs: 0,
    });
    expect(instrumentOf(openLine(), ['B'])).toEqual({
      compressorStepMs: 1,
      ventilatorStepMs: 1,
      offsetErrorMs: 0,
    });
  });
  it('has the offset’s error when the offset is taken out', () => {
    const offset = { medianMs: 5, spreadMs: 2, errorMs: 3, n: 10 };
    for (const applied of [true, false])
      expect(instrumentOf(openLine({ switchOffset: { ...offset, applied } }), ['A']).offsetErrorMs).toBe(
        applied ? 3 : 0,
      );
  });
});

describe('two figures', () => {
  it.each([
    [{ value: 500, plusMinus: 3 }, { value: 505, plusMinus: 4 }, true],
    [{ value: 500, plusMinus: 3 }, { value: 505.1, plusMinus: 4 }, false],
    [{ value: 500, plusMinus: 5 }, { value: 495, plusMinus: null }, true],
    [{ value: 500, plusMinus: null }, { value: 500, plusMinus: null }, null],
  ])('%j and %j agree: %s', (a, b, agree) => {
    expect([areEqual(a, b), areEqual(b, a)]).toEqual([agree, agree]);
  });
});

function times3<T>(value: T): T[] {
  return [value, value, value];
}

/** Compares the figures of a whole series with figures.ts; returns how many numbers were compared. */
function compareWithFigures(bouts: readonly (readonly CycleRow[])[]): number {
  const cycles = cycleValuesOf(bouts, 'standard');
  if (cycles.length === 0) return 0;
  const blocks = Math.ceil(cycles.length / 5);
  const whole = figuresOver(cycles)(Int32Array.from({ length: blocks }, (_, block) => 5 * block));
  const f: Figures = figuresOf(bouts, 'standard');
  const pairs: [number, Figure][] = [
    [whole.coordinatedShare(), f.coordinatedShare],
    [whole.compressionsPerMin(), f.compressionsPerMin],
    [whole.breathsPerMin(), f.breathsPerMin],
    [whole.eventsPerMin(), f.eventsPerMin],
    [whole.cycleMedian(), f.cycleMs.median],
    [whole.cycleIqr(), f.cycleMs.iqr],
    [whole.cycleSd(), f.cycleMs.sd],
    [whole.cycleCv(), f.cycleMs.cv],
    [whole.cycleJitter(), f.cycleJitterMs],
    [whole.clashes(), f.clash.count],
    [whole.byBreath(), f.clash.byBreath],
    [whole.byCompression(), f.clash.byCompression],
    [whole.letGoLate(), f.clash.letGoLate],
    [whole.overlapMs(), f.clash.overlapMs],
    [whole.lagSd(), f.breathLagMs.sd],
    [whole.restartSd(), f.restartLagMs.sd],
    [whole.lagRatioSd(), f.breathLagRatio.sd],
    [whole.phaseSd(), f.breathPhase.sd],
    [whole.intervalSd(), f.compressor.intervalMs.sd],
    [whole.intervalCv(), f.compressor.intervalMs.cv],
    [whole.tripletJitter(), f.compressor.tripletJitterMs],
    [whole.compressorDwellSd(), f.compressor.dwellMs.sd],
    [whole.ventilatorDwellSd(), f.ventilator.dwellMs.sd],
    [whole.shortReleases(), f.compressor.shortReleases],
    [whole.shortSqueezes(), f.ventilator.shortSqueezes],
    [whole.pauseFraction(), f.pauses.fraction],
    [whole.pauses(), f.pauses.count],
    [whole.cycleMean(), f.cycleMs.mean],
    [whole.lagMean(), f.breathLagMs.mean],
    [whole.restartMean(), f.restartLagMs.mean],
    [whole.lagRatioMean(), f.breathLagRatio.mean],
    [whole.phaseMean(), f.breathPhase.mean],
    [whole.intervalMean(), f.compressor.intervalMs.mean],
    [whole.compressorDwellMean(), f.compressor.dwellMs.mean],
    [whole.ventilatorDwellMean(), f.ventilator.dwellMs.mean],
  ];
  const known = pairs.filter(([, figure]) => numberOf(figure) !== null);
  for (const [found, figure] of known) {
    const value = numberOf(figure) ?? Number.NaN;
    expect(Math.abs(found - value)).toBeLessThanOrEqual(1e-6 * Math.max(1, Math.abs(value)));
  }
  return known.length;
}

describe('a journal of a day', () => {
  it('has no intervals by blocks, with the reason, and keeps U for its means', () => {
    const builder = new JournalBuilder().call(0, 'begin');
    for (let index = 0; index < 3003; index += 1) {
      const at = 1000 + index * 2000 + (index % 2) * 20;
      builder.cycle([at, at + 500, at + 1000], at + 1500);
    }
    const report = withPlusMinus(builder.report(), replay(builder.open, builder.lines));
    expect(report.drill.plusMinus?.cycleMs.median).toEqual({ value: null, reason: 'over 3000 cycles' });
    expect(typeof report.drill.plusMinus?.cycleMs.mean).toBe('number');
  });
});
