import { expect, it } from 'vitest';
import { replay } from '../../../machines/replay.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { headlineOf } from '../../../machines/words/headline.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** So many cycles, the first ones in place and the others with a breath 300 ms early. */
function headline(inPlace: number, cycles: number): string {
  const builder = new JournalBuilder().call(0, 'begin');
  for (let cycle = 0; cycle < cycles; cycle += 1) {
    const at = 1000 + 2000 * cycle;
    builder.cycle([at, at + 500, at + 1000], at + (cycle < inPlace ? 1500 : 1200));
  }
  const fold = replay(builder.open, builder.cycle([1000 + 2000 * cycles], null).lines);
  return headlineOf(reportOf(fold), boutRowsOf(fold)).split(' three compressions')[0] ?? '';
}

it.each([
  [1, 1, 'Timing only: your one cycle was'],
  [0, 1, 'Timing only: your one cycle was not'],
  [1, 12, 'Timing only: 1 of your 12 cycles was'],
  [0, 12, 'Timing only: 0 of your 12 cycles were'],
  [12, 12, 'Timing only: 12 of your 12 cycles were'],
])('of %i in place of %i it says so in English', (inPlace, cycles, said) => {
  expect(headline(inPlace, cycles)).toBe(said);
});
