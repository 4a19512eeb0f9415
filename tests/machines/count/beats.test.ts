import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BeatKind,
  beatsBetween,
  type CountAnchor,
  nearestBeat,
  nextOneMs,
} from '../../../machines/count/beats.ts';
import { cycleAtOrAfter, frameOfBeat } from '../../../machines/count/sample-grid.ts';

const anchor: CountAnchor = { atMs: 1500, beat: 'three', cycleMs: 2000 };
const anyAnchor = fc.record({
  atMs: fc.integer({ min: -1e6, max: 1e6 }).map((us) => us / 1000),
  beat: fc.constantFrom<BeatKind>('one', 'two', 'three', 'breathe'),
  cycleMs: fc.double({ min: 500, max: 6000, noNaN: true }),
});

describe('the beats in a span', () => {
  it('start at a "one" and stop before the span ends', () => {
    expect(beatsBetween(anchor, 600, 4500)).toEqual([
      { atMs: 2500, beat: 'one' },
      { atMs: 3000, beat: 'two' },
      { atMs: 3500, beat: 'three' },
      { atMs: 4000, beat: 'breathe' },
    ]);
  });

  it('hold a "one" at the span’s own start, whichever beat the anchor is', () => {
    expect(beatsBetween(anchor, 500, 1000)).toEqual([{ atMs: 500, beat: 'one' }]);
    expect(beatsBetween({ ...anchor, beat: 'one' }, 1500, 1501)).toEqual([{ atMs: 1500, beat: 'one' }]);
  });

  it('are none where no "one" falls', () => {
    expect(beatsBetween(anchor, 501, 2500)).toEqual([]);
  });

  it('are the same whichever spans they are asked for in, and never before the first', () => {
    fc.assert(
      fc.property(anyAnchor, fc.integer({ min: -20_000, max: 20_000 }), (given, from) => {
        const beats = beatsBetween(given, from, from + 20_000);
        expect(beats.every(({ atMs }) => atMs >= from && atMs < from + 20_000)).toBe(true);
        expect(beats[0]?.beat).toBe('one');
        expect(beats[0]?.atMs).toBe(nextOneMs(given, from));
        expect((beats[0]?.atMs ?? 0) - from).toBeLessThan(given.cycleMs + 1e-6);
        const later = beatsBetween(given, from + 10_000, from + 20_000);
        expect(beats.filter(({ atMs }) => atMs >= (later[0]?.atMs ?? Number.POSITIVE_INFINITY))).toEqual(
          later,
        );
      }),
    );
  });

  it('are refused for a cycle of no length and a span without end', () => {
    expect(() => beatsBetween({ ...anchor, cycleMs: 0 }, 0, 1)).toThrow(RangeError);
    expect(() => beatsBetween(anchor, 0, Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});

describe('the beat nearest to a time', () => {
  it('says early as negative', () => {
    expect(nearestBeat(anchor, 1460)).toEqual({ atMs: 1500, beat: 'three', asynchronyMs: -40 });
    expect(nearestBeat(anchor, 2230)).toEqual({ atMs: 2000, beat: 'breathe', asynchronyMs: 230 });
    expect(nearestBeat(anchor, 250)).toEqual({ atMs: 500, beat: 'one', asynchronyMs: -250 });
  });
});

describe('the sample grid', () => {
  it('has beats 24 000 samples apart at 48 kHz, and never adds its roundings up', () => {
    const grid = { oneFrame: 100, cycleMs: 2000, sampleRate: 48_000 };
    expect([0, 1, 2, 3, 4, 400].map((beat) => frameOfBeat(grid, beat))).toEqual([
      100, 24_100, 48_100, 72_100, 96_100, 9_600_100,
    ]);
    const odd = { oneFrame: 0, cycleMs: 1999, sampleRate: 44_100 };
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (beat) => {
        expect(Math.abs(frameOfBeat(odd, beat) - (beat * 1999 * 44_100) / 4000)).toBeLessThanOrEqual(0.5);
      }),
    );
  });

  it('finds the first cycle whose "one" is not before a frame', () => {
    const grid = { oneFrame: 1000, cycleMs: 2000, sampleRate: 48_000 };
    expect([0, 1000, 1001, 97_000, 97_001].map((frame) => cycleAtOrAfter(grid, frame))).toEqual([
      0, 0, 1, 1, 2,
    ]);
  });
});
