import { describe, expect, it } from 'vitest';
import type { BodyLine, CountSense } from '../../../machines/journal.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

const NO_BEAT = 'no beat was heard beside a cycle of three compressions and a breath';

function given(fromMs: number, by: CountSense = 'sound', cycleMs = 2000): BodyLine {
  const at = fromMs - 500;
  return {
    kind: 'count',
    at,
    what: 'given',
    by,
    fromMs,
    beat: 'one',
    cycleMs,
    outputLatencyMs: 10,
    errorMs: 0.1,
  };
}
function stopped(at: number, lastMs: number): BodyLine {
  return { kind: 'count', at, what: 'stopped', lastMs };
}
/** Cycles of the same shape: three onsets and the breath's, from the cycle's nominal start. */
function cycles(builder: JournalBuilder, startMs: number, count: number, shape: readonly number[]): void {
  const [one = 0, two = 0, three = 0, breath = 0] = shape;
  for (let index = 0; index < count; index += 1) {
    const at = startMs + index * 2000;
    builder.cycle([at + one, at + two, at + three], at + breath);
  }
}

describe('asynchrony to the heard beat', () => {
  it('is the press’s time less its own beat’s, by role, early negative', () => {
    const builder = new JournalBuilder().call(0, 'begin').line(given(1000));
    // -30, -20 and -10 ms from one, two and three; the breath 40 ms after "breathe".
    cycles(builder, 1000, 5, [-30, 480, 990, 1540]);
    const { bouts, drill } = builder.report();
    // The fifth cycle has no end: four are complete.
    const { compressor, ventilator } = drill.count.asynchronyMs;
    expect([compressor.mean, compressor.n, ventilator]).toEqual([-20, 12, { mean: 40, sd: 0, n: 4 }]);
    // Four of each of -30, -20, -10: 8 squares of 100 over n - 1 = 11.
    expect(compressor.sd).toBeCloseTo(Math.sqrt(800 / 11), 9);
    expect(bouts[0]?.count.asynchronyMs).toEqual(drill.count.asynchronyMs);
    expect(drill.people.A.compressor.count.asynchronyMs.compressor.mean).toBe(-20);
    expect(drill.people.B.compressor.count.asynchronyMs.compressor.n).toBe(0);
  });

  it('counts only presses with a beat that was heard', () => {
    const builder = new JournalBuilder().call(0, 'begin').line(given(1000)).line(stopped(4000, 4500));
    cycles(builder, 1000, 6, [10, 510, 1010, 1510]);
    expect(builder.report().drill.count.asynchronyMs.ventilator).toEqual({ mean: 10, sd: 0, n: 2 });
  });

  it('is nothing, with its reason, for a count that was only shown and for none', () => {
    for (const by of ['sight', null] as const) {
      const builder = new JournalBuilder().call(0, 'begin');
      if (by !== null) builder.line(given(1000, by));
      cycles(builder, 1000, 6, [10, 510, 1010, 1510]);
      const none = { value: null, reason: NO_BEAT };
      expect(builder.report().drill.count.asynchronyMs.compressor).toEqual({ mean: none, sd: none, n: 0 });
    }
  });
});

describe('steadiness with and without the count', () => {
  it('takes each cycle with the count, without it, or in neither', () => {
    const builder = new JournalBuilder({ guidance: 'weaned' }).call(0, 'begin').line(given(1000));
    builder.line(stopped(10_000, 10_500));
    cycles(builder, 1000, 5, [0, 500, 1000, 1500]);
    // Out of place, but of the same length, once the count is off.
    cycles(builder, 11_000, 5, [0, 700, 1000, 1500]);
    cycles(builder, 21_000, 1, [0, 500, 1000, 1500]);
    const { withCount, withoutCount } = builder.report().drill.count;
    expect([withCount.cycles, withCount.coordinated, withCount.coordinatedShare]).toEqual([5, 5, 1]);
    expect([withoutCount.cycles, withoutCount.coordinated, withoutCount.coordinatedShare]).toEqual([5, 0, 0]);
    expect(withCount.cycleJitterMs).toBe(0);
  });

  it('leaves a slow tempo out of both', () => {
    const builder = new JournalBuilder({ cycleMs: 3000 }).call(0, 'begin').line(given(1000, 'sound', 3000));
    builder.ideal(1000, 6, 3000);
    const { withCount, withoutCount, asynchronyMs } = builder.report().drill.count;
    expect([withCount.cycles, withoutCount.cycles, asynchronyMs.ventilator.n]).toEqual([0, 0, 5]);
    expect(withCount.coordinatedShare).toEqual({ value: null, reason: 'no complete cycle' });
  });

  it('takes no pair of cycles for neighbours across a gap in the count', () => {
    const builder = new JournalBuilder({ guidance: 'weaned' }).call(0, 'begin').line(given(1000));
    builder.line(stopped(4000, 4500)).line(given(9000)).line(stopped(12_000, 12_500));
    builder.ideal(1000, 7);
    const { withCount } = builder.report().drill.count;
    // Two runs of two cycles: one pair each. A run of four would have three.
    expect([withCount.cycles, withCount.cycleJitterMs]).toEqual([4, 0]);
    const short = new JournalBuilder({ guidance: 'weaned' }).call(0, 'begin').line(given(1000));
    short.line(stopped(2000, 2500)).line(given(7000)).line(stopped(8000, 8500)).ideal(1000, 6);
    expect(short.report().drill.count.withCount.cycleJitterMs).toMatchObject({ value: null });
  });
});
