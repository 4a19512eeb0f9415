import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BodyLine, OpenLine } from '../../../machines/journal.ts';
import { FAULTS } from '../../../machines/rehearsal/faults.ts';
import { rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { replay } from '../../../machines/replay.ts';
import { adviceOf } from '../../../machines/scoring/advice.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { adviceSentences } from '../../../machines/words/advice-words.ts';
import { headlineOf } from '../../../machines/words/headline.ts';
import { allMet, onlyRates } from '../../support/advised-pair.ts';
import { anyJournal } from '../../support/arbitrary-journal.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

const NAMES = { A: 'Ada', B: 'Ben' };
function debrief(open: OpenLine, lines: readonly BodyLine[]) {
  const fold = replay(
    open,
    lines.map((line, index) => ({ number: index + 2, line })),
  );
  const report = reportOf(fold);
  const rows = boutRowsOf(fold);
  const advice = adviceOf(report, rows, fold);
  return { report, advice, headline: headlineOf(report, rows), sentences: adviceSentences(advice, NAMES) };
}
/** All four ticks met in every bout, so that nothing but the timing stands against praise. */
function praised(open: OpenLine, lines: readonly BodyLine[]) {
  const { report } = debrief(open, lines);
  const ticks = report.bouts.flatMap(({ startMs }) => allMet(startMs));
  const at = (line: BodyLine) => ('at' in line ? (line.at ?? 0) : 0);
  // After the lines of the same time, so that the bout has begun.
  return debrief(
    open,
    [...lines, ...ticks].sort((one, other) => at(one) - at(other)),
  );
}

/**
 * The property: whoever is praised in a role had half of that role's cycles coordinated, or more; and beside a headline of none in place nobody is praised, nor
 * the pair for its order.
 */
function expectHonestPraise({ report, advice, headline }: ReturnType<typeof debrief>): number {
  let count = 0;
  for (const person of ['A', 'B'] as const) {
    const { praise } = advice.forPerson[person];
    if (praise === null) continue;
    count += 1;
    const bouts = report.bouts.filter(
      (bout) => bout.roles[praise.role] === person && bout.rig === report.drill.rig,
    );
    const total = bouts.reduce((sum, { cycles }) => sum + cycles.total, 0);
    const coordinated = bouts.reduce((sum, { cycles }) => sum + cycles.coordinated, 0);
    expect(2 * coordinated).toBeGreaterThanOrEqual(total);
    expect(headline).not.toMatch(/^Timing only: 0 of/);
    // "Three even compressions and room for the breath" is not said to one who is told of their pace.
    const told = advice.forPerson[person].toTry?.rule ?? '';
    expect(praise.rule === 'three-each' && told.startsWith('pace')).toBe(false);
  }
  if (headline.startsWith('Timing only: 0 of')) expect(advice.pair.praise?.rule).not.toBe('kept-order');
  return count;
}

describe('praise never stands against the headline', () => {
  it('of a rehearsed pair, whatever its habits and mistakes', () => {
    let count = 0;
    const habit = fc.record({
      paceOffPct: fc.constantFrom(-20, -12, -6, 0, 0, 0, 0, 6, 12, 20),
      driftPctPerMin: fc.constantFrom(0, 0, 0, 4),
      breathAheadMs: fc.constantFrom(-300, -150, -25, -25, -25, -25, 100, 300),
    });
    const anyRates = fc
      .tuple(fc.constantFrom(...FAULTS), fc.constantFrom(0, 0, 0.1, 0.6))
      .map(([fault, rate]) => onlyRates({ [fault]: rate }));
    fc.assert(
      fc.property(
        fc.nat(1000),
        habit,
        habit,
        anyRates,
        fc.constantFrom('steady', 'two-minutes-and-swap'),
        (seed, A, B, faultRates, plan) => {
          const { open, lines } = rehearse({ seed, minutes: 1, plan, pair: { A, B }, faultRates });
          count += expectHonestPraise(praised(open, lines));
        },
      ),
      { numRuns: 150, seed: 6 },
    );
    expect(count).toBeGreaterThan(10);
  });
  it('of any journal', () => {
    fc.assert(
      fc.property(anyJournal(30), ({ open, lines }) => {
        expectHonestPraise(
          praised(
            open,
            lines.map(({ line }) => line),
          ),
        );
      }),
      { numRuns: 100 },
    );
  });
  it.each([425, 575])('a beat of %i ms, of which no cycle is in place', (beat) => {
    const builder = new JournalBuilder().call(0, 'begin').ideal(1000, 20, 4 * beat);
    builder.cycle([1000 + 80 * beat], null);
    const { headline, sentences } = praised(
      builder.open,
      builder.lines.map(({ line }) => line),
    );
    expect(headline).toMatch(/^Timing only: 0 of your 20 cycles/);
    expect(sentences.praise).toEqual([]);
    expect(sentences.people[0]?.text).toMatch(
      /^Ada, on the chest: you ran at the pace of about \d+ a minute/,
    );
  });
  it('nor praise for the compressions beside a pace that is off, though all is in place', () => {
    const builder = new JournalBuilder().call(0, 'begin').ideal(1000, 30, 4 * 470);
    builder.cycle([1000 + 120 * 470], null);
    const { headline, advice } = praised(
      builder.open,
      builder.lines.map(({ line }) => line),
    );
    expect(headline).toMatch(/^Timing only: 30 of your 30 cycles/);
    expect([advice.forPerson.A.toTry?.rule, advice.forPerson.A.praise]).toEqual(['pace-fast', null]);
    expect(advice.forPerson.B.praise?.rule).toBe('breath-in-place');
  });
});
