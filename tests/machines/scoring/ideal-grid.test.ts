import { describe, expect, it } from 'vitest';
import { JournalBuilder } from '../../support/journal-builder.ts';

/**
 * The ideal grid: a press every 500 ms, C C C V. Expected values: published check values, section 1.3
 * (arithmetic that follows from 90 compressions, 30 ventilations and 120 events a minute, Solevåg 2012 abstract).
 */
describe('the ideal grid', () => {
  // 31 cycles: the last one is still open when the drill finishes, and is dropped.
  const report = new JournalBuilder().call(0, 'begin').ideal(1000, 31).call(63_000, 'finish').report();
  const { drill } = report;

  it('delivers 90 compressions, 30 breaths and 120 events a minute', () => {
    expect([drill.compressionsPerMin, drill.breathsPerMin, drill.eventsPerMin]).toEqual([90, 30, 120]);
  });
  it('has 30 cycles, all exact, all coordinated', () => {
    expect(drill.cycles).toEqual({ total: 30, exact: 30, coordinated: 30 });
    expect(drill.coordinatedShare).toBe(1);
  });
  it('has its breath at phase 0.75 and every lag at 500 ms, with no spread', () => {
    expect(drill.breathPhase).toEqual({ mean: 0.75, sd: 0, n: 30 });
    expect(drill.breathLagMs).toEqual({ mean: 500, sd: 0, n: 30 });
    expect(drill.restartLagMs).toEqual({ mean: 500, sd: 0, n: 30 });
    expect(drill.breathLagRatio).toEqual({ mean: 1, sd: 0, n: 30 });
  });
  it('has a pace of 120 a minute inside the triplet, which is not the delivered rate', () => {
    expect(drill.compressor.intervalMs).toEqual({ mean: 500, sd: 0, cv: 0, n: 60 });
  });
  it('has cycles of 2 s without jitter, clash, pause or change of pace', () => {
    expect(drill.cycleMs).toEqual({ median: 2000, iqr: 0, mean: 2000, sd: 0, cv: 0 });
    expect(drill.cycleJitterMs).toBe(0);
    expect(drill.clash).toEqual({ count: 0, byBreath: 0, byCompression: 0, letGoLate: 0, overlapMs: 0 });
    expect(drill.pauses).toEqual({ fraction: 0, longestMs: 0, count: 0 });
    expect(report.bouts[0]?.paceChangePctPerMin).toEqual({ value: 0, low: 0, high: 0 });
  });
  it('counts the open last cycle in the attempt, to its last release', () => {
    // 1000 ms to the last breath's release at 61 000 + 1 500 + 400 = 62 900 ms.
    expect(drill.attempt).toEqual({
      ms: 61_900,
      compressionsPerMin: (93 * 60_000) / 61_900,
      breathsPerMin: (31 * 60_000) / 61_900,
    });
  });
  it('has nothing to warn of but the missing close line', () => {
    expect(report.warnings).toEqual(['no close line: the drill was left open, or is going on']);
  });
});
