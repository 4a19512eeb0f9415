import { expect, test } from 'vitest';
import type { RigCheck } from '../../../machines/journal.ts';
import { replay } from '../../../machines/replay.ts';
import { boutRowsOf } from '../../../machines/scoring/report.ts';
import { withPlusMinus } from '../../../machines/scoring/report-plus-minus.ts';
import { headlineOf } from '../../../machines/words/headline.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

const CHECK: RigCheck = {
  outcome: 'passed',
  at: '2026-03-02T09:12:00.000Z',
  techniques: ['two-thumb'],
  stances: ['foot-end'],
};

/** Ten cycles as checked, then a technique that was not, five more. */
function drill(rigCheck: RigCheck | undefined): JournalBuilder {
  return new JournalBuilder({ rig: 'manikin', ...(rigCheck === undefined ? {} : { rigCheck }) })
    .call(0, 'begin')
    .ideal(1000, 11)
    .call(22_900, { call: 'technique', technique: 'two-finger' })
    .ideal(26_000, 6);
}

test('a stretch that the rig was not checked with is rhythm, and in no pooled figure of the manikin drill', () => {
  const builder = drill(CHECK);
  const fold = replay(builder.open, builder.lines);
  const report = withPlusMinus(builder.report(), fold);
  expect(report.bouts.map(({ rig, cycles }) => [rig, cycles.total])).toEqual([
    ['manikin', 10],
    ['rhythm', 5],
  ]);
  expect([report.drill.cycles.total, report.drill.people.A.compressor.cycles.total]).toEqual([10, 10]);
  expect(headlineOf(report, boutRowsOf(fold))).toContain('10 of your 10 cycles');
});

test('a journal that says nothing of a check has one rig throughout', () => {
  const report = drill(undefined).report();
  expect(report.bouts.map(({ rig }) => rig)).toEqual(['manikin', 'manikin']);
  expect(report.drill.cycles.total).toBe(15);
});
