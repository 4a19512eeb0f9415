import { describe, expect, it } from 'vitest';
import {
  openRateEntry,
  type RateSituation,
  rateWays,
  stepped,
  tapsFor,
  wayNow,
  withDigit,
  withNextWay,
  withoutDigit,
} from '../../machines/heart-rate.ts';

const now = (over: Partial<RateSituation> = {}): RateSituation => ({
  stage: 'checking',
  lastCompressionMs: 10_000,
  isCounted: false,
  hasSound: true,
  ...over,
});

describe('a heart rate', () => {
  it('can always be said, and in a check also be shown and tapped', () => {
    expect(rateWays(now(), 60_000)).toEqual(['voice', 'sight', 'taps']);
    expect(rateWays(now({ lastCompressionMs: null, stage: 'ventilating' }), 500)).toEqual([
      'voice',
      'sight',
      'taps',
    ]);
  });
  it('is never tapped within 2 s of a compression, in a bout or not', () => {
    expect(rateWays(now(), 11_999.999)).toEqual(['voice', 'sight']);
    expect(rateWays(now(), 12_000)).toEqual(['voice', 'sight', 'taps']);
  });
  it('is only said while the pair compresses, however long ago the last compression was', () => {
    expect(rateWays(now({ stage: 'compressing' }), 60_000)).toEqual(['voice']);
  });
  it('is only said while a count is given', () => {
    expect(rateWays(now({ stage: 'ready', isCounted: true }), 60_000)).toEqual(['voice']);
  });
  it('is not tapped without sound', () => {
    expect(rateWays(now({ hasSound: false }), 60_000)).toEqual(['voice', 'sight']);
  });
  it('is tapped for 6 s: a tenth of it in taps, and none at 0', () => {
    expect([50, 60, 125, 4, 0].map(tapsFor)).toEqual([5, 6, 13, 0, 0]);
  });
});

describe('entering it', () => {
  const typed = (...digits: number[]) => digits.reduce(withDigit, openRateEntry(120)).bpm;

  it('begins at the last announced, or at 50, and is to be said', () => {
    expect([openRateEntry(80), openRateEntry(null)]).toEqual([
      { bpm: 80, isTyped: false, way: 'voice' },
      { bpm: 50, isTyped: false, way: 'voice' },
    ]);
  });
  it('takes digits in place of that number, up to 300', () => {
    expect([typed(6), typed(6, 0), typed(3, 0, 0), typed(3, 0, 1), typed(0, 5)]).toEqual([6, 60, 300, 30, 5]);
  });
  it('erases the last digit', () => {
    expect(withoutDigit(withDigit(openRateEntry(120), 6))).toMatchObject({ bpm: 0, isTyped: true });
    expect(withoutDigit(openRateEntry(120)).bpm).toBe(12);
  });
  it('steps by so much, between 0 and 300', () => {
    expect([stepped(openRateEntry(55), 10).bpm, stepped(openRateEntry(5), -10).bpm]).toEqual([65, 0]);
    expect(stepped(openRateEntry(295), 10).bpm).toBe(300);
    expect(withDigit(stepped(openRateEntry(50), 10), 8).bpm).toBe(8);
  });
  it('goes through the ways there are now, and falls back to the voice', () => {
    const ways = ['voice', 'sight'] as const;
    const shown = withNextWay(openRateEntry(50), ways);
    expect([shown.way, withNextWay(shown, ways).way]).toEqual(['sight', 'voice']);
    expect(wayNow(shown, ['voice'])).toBe('voice');
    expect(withNextWay(shown, ['voice']).way).toBe('voice');
  });
});
