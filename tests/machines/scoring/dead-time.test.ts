import { expect, test } from 'vitest';
import { replay } from '../../../machines/replay.ts';
import { deadTimeOf } from '../../../machines/scoring/dead-time.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { deadTimeLines } from '../../../machines/words/dead-time-words.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

function deadTime(journal: JournalBuilder) {
  const fold = replay(journal.open, journal.lines);
  return deadTimeOf(reportOf(fold), boutRowsOf(fold));
}

test('time without compressions is told apart: pauses, handovers, checks', () => {
  const journal = new JournalBuilder()
    .call(0, 'begin')
    .ideal(1000, 2)
    // The third compression is let up at 6200, the next comes at 8700: 2.5 s, over 0.75 T.
    .cycle([5000, 5500, 6000], 6500)
    .ideal(8700, 2)
    // Last old is let up at 11900, first new at 16000: 4.1 s.
    .call(12_000, 'swap')
    .ideal(16_000, 3)
    // The last compression before the check is let up at 21200, the next comes at 30000: 8.8 s.
    .call(22_000, 'check')
    .call(29_000, 'checked')
    .ideal(30_000, 3)
    .call(36_500, 'finish');
  expect(deadTime(journal)).toEqual({
    pauses: { count: 1, totalMs: 2500, longestMs: 2500 },
    handovers: { count: 1, totalMs: 4100, longestMs: 4100 },
    checks: { count: 1, totalMs: 8800, longestMs: 8800 },
  });
});

test('where there was none of a kind, nothing is made up', () => {
  const lines = deadTimeLines(
    deadTime(new JournalBuilder().call(0, 'begin').ideal(1000, 4).call(10_000, 'finish')),
  );
  expect(lines.map(({ kind, count, total, longest }) => [kind, count, total, longest])).toEqual([
    ['Pauses inside cycles', '0', '–', '–'],
    ['Handovers', '0', '–', '–'],
    ['Heart-rate checks', '0', '–', '–'],
  ]);
});
