import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BeatTimeline } from '../../../machines/count/beat-timeline.ts';
import { BEAT_KINDS } from '../../../machines/count/beats.ts';
import type { CountLine, CountSense } from '../../../machines/journal.ts';

const MS = 1000;

function given(fromMs: number, cycleMs = 2000, by: CountSense = 'sound'): CountLine {
  return {
    kind: 'count',
    at: 0,
    what: 'given',
    by,
    fromMs,
    beat: 'one',
    cycleMs,
    outputLatencyMs: 10,
    errorMs: 0.1,
  };
}
function stopped(lastMs: number | null): CountLine {
  return { kind: 'count', at: 0, what: 'stopped', lastMs };
}
function timeline(...lines: CountLine[]): BeatTimeline {
  const beats = new BeatTimeline();
  for (const line of lines) beats.take(line);
  return beats;
}

describe('how far a press is from the heard beat', () => {
  const beats = timeline(given(10_000));

  it.each([
    ['one', 10_000, 0],
    ['one', 9_960, -40],
    ['two', 10_560, 60],
    ['breathe', 11_440, -60],
    ['one', 610_123, 123],
  ] as const)('%s at %d ms is %d ms off', (kind, atMs, offMs) => {
    expect(beats.asynchronyMs(kind, atMs * MS)).toBe(offMs);
  });

  it('is told for its own beat alone, up to half a cycle away', () => {
    expect(beats.asynchronyMs('three', 10_500 * MS)).toBe(-500);
    expect(beats.asynchronyMs('one', 8_999 * MS)).toBe(null);
  });

  it('is not told where no beat was heard: before the count, after it, or while it was only shown', () => {
    const ended = timeline(given(10_000), stopped(19_500), given(40_000, 2000, 'sight'));
    expect(ended.asynchronyMs('breathe', 19_500 * MS)).toBe(0);
    expect(ended.asynchronyMs('one', 20_900 * MS)).toBe(null);
    expect(ended.asynchronyMs('one', 42_000 * MS)).toBe(null);
  });

  it('follows each closer reading from its own “one” on', () => {
    const drifting = timeline(given(10_000), given(30_000.6, 2000.06), given(60_002));
    expect(drifting.asynchronyMs('one', 28_000 * MS)).toBe(0);
    expect(drifting.asynchronyMs('one', 32_000.66 * MS)).toBeCloseTo(0, 6);
    expect(drifting.asynchronyMs('breathe', 61_502 * MS)).toBe(0);
  });

  it('knows a count by any of its beats', () => {
    const fromTwo = timeline({ ...given(10_500), beat: 'two' } as CountLine);
    expect(fromTwo.asynchronyMs('one', 10_000 * MS)).toBe(0);
  });

  it('forgets a count of which no beat was given', () => {
    expect(timeline(given(10_000), stopped(null)).stretches).toEqual([]);
  });
});

describe('whether a cycle had the count', () => {
  // Cycles from 10 to 30 s, closer readings between; then silence; then again from 50 s.
  const beats = timeline(given(10_000), given(20_000.3), stopped(29_500.3), given(50_000));
  const has = (fromMs: number, toMs = fromMs + 2000) => beats.isGivenIn(fromMs * MS, toMs * MS, 2000 * MS);

  it.each([
    [8_000, false],
    [9_900, true],
    [19_000, true],
    [28_100, true],
    [28_900, null],
    [30_020, false],
    [47_900, false],
    [48_500, null],
    [49_800, true],
    [90_000, true],
  ])('from %d ms: %s', (fromMs, isGiven) => {
    expect(has(fromMs)).toBe(isGiven);
  });
});

describe('on any count lines', () => {
  const time = fc.integer({ min: 0, max: 86_400_000 });
  const anyLine = fc.oneof(
    fc
      .record({
        fromMs: time,
        cycleMs: fc.integer({ min: 500, max: 20_000 }),
        beat: fc.constantFrom(...BEAT_KINDS),
        by: fc.constantFrom<CountSense>('sound', 'sight'),
      })
      .map((parts) => ({ ...given(0), ...parts }) as CountLine),
    fc.option(time).map(stopped),
  );

  it('stretches are in order, none is empty, and no two are in force at once', () => {
    fc.assert(
      fc.property(fc.array(anyLine, { maxLength: 30 }), (lines) => {
        const { stretches } = timeline(...lines);
        stretches.forEach((stretch, index) => {
          expect(stretch.toUs).toBeGreaterThan(stretch.fromUs);
          expect(stretches[index + 1]?.fromUs ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(
            stretch.toUs,
          );
        });
      }),
    );
  });

  it('an asynchrony is at most half the longest cycle, and never NaN', () => {
    fc.assert(
      fc.property(fc.array(anyLine, { maxLength: 30 }), time, (lines, atMs) => {
        for (const kind of BEAT_KINDS) {
          const off = timeline(...lines).asynchronyMs(kind, atMs * MS);
          if (off !== null) expect(Math.abs(off)).toBeLessThanOrEqual(10_000);
        }
      }),
    );
  });
});
