import { describe, expect, it } from 'vitest';
import { replay } from '../../../machines/replay.ts';
import { firstRightMsOf } from '../../../machines/scoring/handover-figures.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { handoverSteps, handoverWithSteps } from '../../../machines/words/handover-sentence.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Ideal cycles from 1000; the last compression of six is at 12 000, its breath at 12 500 to 12 900. */
const pair = () => new JournalBuilder().call(0, 'begin').ideal(1000, 6);
const stepsOf = (journal: JournalBuilder) => {
  const fold = replay(journal.open, journal.lines);
  const report = reportOf(fold);
  const [handover] = report.handovers;
  if (handover === undefined) throw new Error('there is no handover');
  const right = firstRightMsOf(handover, report.bouts, boutRowsOf(fold), 'standard');
  return { steps: handoverSteps(handover, right), line: handoverWithSteps(handover, right) };
};

describe('a handover, step by step', () => {
  it('says when it was called, the last old, the first new and the first right cycle, and what it cost', () => {
    // Called 11 700: last old 12 000, first new 14 000. The first cycle has a late second compression; the next starts 16 000.
    const journal = pair().call(11_700, 'swap').cycle([14_000, 14_700, 15_000], 15_500).ideal(16_000, 6);
    expect(stepsOf(journal).steps).toEqual([
      'swap called at 0:11: taken up',
      'from the call: last old 0.3 s, first new 2.3 s, first right cycle 4.3 s',
      '1.8 s without compressions, 3.0 s between breaths',
      'coordinated: 5 of five before, 4 of five after',
    ]);
  });
  it('says a last old compression that came before the call, and that no cycle is right yet', () => {
    const { steps, line } = stepsOf(pair().call(12_300, 'swap').cycle([14_000, 14_500, 15_000], 15_500));
    expect(steps[1]).toBe('from the call: last old −0.3 s, first new 1.7 s, no right cycle yet');
    expect(line.endsWith(`; ${steps[1]}`)).toBe(true);
  });
  it('has nothing but its outcome when it was not carried out', () => {
    const { steps, line } = stepsOf(pair().call(12_300, 'swap').call(12_400, 'rest'));
    expect([steps, line]).toEqual([['swap called at 0:12: cut short'], 'swap called: cut short']);
  });
  it('counts the presses of who compressed on', () => {
    const journal = new JournalBuilder({ binding: 'person' }).call(0, 'begin').ideal(1000, 6, 2000, 'A', 'B');
    journal.call(12_700, 'swap').ideal(14_000, 2, 2000, 'B', 'A');
    for (const on of [14_100, 14_550]) journal.press('A', on, on + 100);
    expect(stepsOf(journal).steps.at(-1)).toBe('2 stray presses');
  });
});
