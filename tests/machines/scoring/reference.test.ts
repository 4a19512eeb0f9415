import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OpenLine } from '../../../machines/journal.ts';
import type { NumberedLine } from '../../../machines/journal-reader.ts';
import { replay } from '../../../machines/replay.ts';
import { type Figure, numberOf } from '../../../machines/scoring/figure.ts';
import { reportOf, rowsOf } from '../../../machines/scoring/report.ts';
import { anyJournal } from '../../support/arbitrary-journal.ts';
import type { ReferenceScore } from '../../support/reference-handovers.ts';
import { scoreByReference } from '../../support/reference-scoring.ts';

/** For a long run by hand: REFERENCE_RUNS=100000 REFERENCE_SEED=7 npx vitest run tests/machines/scoring/reference.test.ts */
const numRuns = Number(process.env.REFERENCE_RUNS ?? 1500);
const seed = Number(process.env.REFERENCE_SEED ?? 1);

describe('the fold, beside a second scoring that looks through the whole journal', () => {
  it('finds the same bouts, handovers, checks and rows in any journal', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(anyJournal(), ({ open, lines }) => {
        const reference = scoreByReference(open, lines);
        expect(scoreByFold(open, lines)).toEqual(reference);
        for (const { outcome, strays } of reference.handovers) {
          seen.add(`${open.binding}: ${outcome}`);
          if (strays) seen.add('strays');
        }
        if (reference.checks.some(({ pauseUs }) => pauseUs !== null)) seen.add('check');
        const rows = reference.bouts.flatMap((bout) => bout.rows);
        if (rows.some(({ clash }) => clash.count > 0)) seen.add('clash');
        if (rows.some(({ breaths }) => breaths.some(({ onUs }) => onUs < 0)))
          seen.add('breath before its cycle');
        if (rows.some(({ startUs }) => startUs < 0)) seen.add('start before the drill');
      }),
      { numRuns, seed },
    );
    const outcomes = ['taken up', 'seamless', 'never taken up', 'withdrawn', 'cut short'];
    const all = ['place', 'person'].flatMap((binding) => outcomes.map((outcome) => `${binding}: ${outcome}`));
    expect([...seen].sort()).toEqual(
      [...all, 'breath before its cycle', 'check', 'clash', 'start before the drill', 'strays'].sort(),
    );
  }, 3_600_000);
});

function scoreByFold(open: OpenLine, lines: readonly NumberedLine[]): ReferenceScore {
  const fold = replay(open, lines);
  const report = reportOf(fold);
  return {
    bouts: fold.tracker.book.bouts.map((bout, index) => ({
      startUs: bout.startUs,
      endUs: us(report.bouts[index]?.endMs ?? -1),
      arrangement: { roles: bout.roles, technique: bout.technique, stance: bout.stance },
      rows: rowsOf(fold, bout),
    })),
    handovers: fold.tracker.handovers.map((handover, index) => ({
      reasons: handover.reasons,
      calledUs: handover.calledUs,
      outcome: handover.outcome ?? 'cut short',
      lastOldUs: handover.lastOld?.onUs ?? null,
      firstNewUs: handover.firstNew?.onUs ?? null,
      newBout: handover.newBout,
      pauseUs: usOf(report.handovers[index]?.pauseMs),
      breathGapUs: usOf(report.handovers[index]?.breathGapMs),
      strays: handover.strays,
    })),
    checks: report.checks.map(({ calledMs, pauseMs }) => ({
      calledUs: us(calledMs),
      pauseUs: usOf(pauseMs),
    })),
    scored: { ...fold.tracker.book.scored },
    ignored: fold.warnings.map((warning) => Number(/^line (\d+):/.exec(warning)?.[1])),
  };
}

function us(ms: number): number {
  return Math.round(ms * 1000);
}

function usOf(figure: Figure | undefined): number | null {
  const ms = figure === undefined ? null : numberOf(figure);
  return ms === null ? null : us(ms);
}
