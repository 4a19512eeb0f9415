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

describe('asynchrony of a pair that does not keep to the count', () => {
  it('has no mean: half a cycle early is half a cycle late', () => {
    for (const cycleMs of [1850, 2150, 2300]) {
      const builder = new JournalBuilder().call(0, 'begin').line(given(1000)).ideal(1000, 40, cycleMs);
      const { mean, sd, n } = builder.report().drill.count.asynchronyMs.compressor;
      const astray = { value: null, reason: 'the presses did not keep to the heard beat' };
      expect([mean, sd, n]).toEqual([astray, astray, 117]);
    }
  });

  it('is told as it is where the pair is steady half a cycle off: not as none at all', () => {
    const builder = new JournalBuilder().call(0, 'begin').line(given(1000));
    for (let index = 0; index < 20; index += 1) {
      const at = 2000 + index * 2000 + (index % 2 === 0 ? 15 : -15);
      builder.cycle([at, at + 500, at + 1000], at + 1500);
    }
    const { mean, sd } = builder.report().drill.count.asynchronyMs.compressor;
    expect(Math.abs(typeof mean === 'number' ? mean : 0)).toBeCloseTo(1000, -1);
    expect(sd).toBeLessThan(20);
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
    builder.line(stopped(4000, 4500)).line(given(9000)).line(stopped(12_400, 12_700));
    // Two cycles of 2 s with the count, two without, then two of 2.1 s with it, and an onset to end the last.
    builder.ideal(1000, 4).ideal(9000, 2, 2100).cycle([13_200], null);
    const { withCount } = builder.report().drill.count;
    // One pair in either run, alike within itself; a pair across the gap would differ by 100 ms.
    expect([withCount.cycles, withCount.cycleJitterMs]).toEqual([4, 0]);
  });

  it('says of no cycle that it went without a count that was to be given and is on no record', () => {
    const cyclesOf = (guidance: 'led' | 'weaned' | 'unled') => {
      const builder = new JournalBuilder({ guidance }).call(0, 'begin').ideal(1000, 6);
      const { withCount, withoutCount } = builder.report().drill.count;
      return [withCount.cycles, withoutCount.cycles];
    };
    expect([cyclesOf('led'), cyclesOf('weaned'), cyclesOf('unled')]).toEqual([
      [0, 0],
      [0, 0],
      [0, 5],
    ]);
  });
});
