import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OpenLine } from '../../../machines/journal.ts';
import type { NumberedLine } from '../../../machines/journal-reader.ts';
import { replay } from '../../../machines/replay.ts';
import { type Figure, numberOf } from '../../../machines/scoring/figure.ts';
import { reportOf } from '../../../machines/scoring/report.ts';
import { anyJournal } from '../../support/arbitrary-journal.ts';
import { type ReferenceVentilation, ventilationByReference } from '../../support/reference-ventilation.ts';

/** For a long run by hand: REFERENCE_RUNS=100000 REFERENCE_SEED=7 */
const numRuns = Number(process.env.REFERENCE_RUNS ?? 3000);
const seed = Number(process.env.REFERENCE_SEED ?? 1);

describe('the ventilation stage, beside a second reading of the whole journal', () => {
  it('has the same figures in any journal', () => {
    const seen = new Set<string>();
    const onPlaces = anyJournal().filter(({ open }) => open.binding === 'place');
    fc.assert(
      fc.property(onPlaces, fc.boolean(), ({ open: any, lines }, isRhythm) => {
        const open: OpenLine = isRhythm ? { ...any, rig: 'rhythm' } : any;
        const reference = ventilationByReference(open, lines);
        expect(byFold(open, lines)).toEqual(reference);
        if (reference === null) return;
        for (const [name, value] of Object.entries(reference)) if (value !== null) seen.add(name);
        if (reference.effectiveUs) seen.add('effective for a while');
        if (reference.beganUnder60) seen.add('began under 60');
        if (reference.after60?.compressions) seen.add('compressions after 60');
        if (reference.after60?.compressions === 0) seen.add('no compression after 60');
        if (reference.back.some(({ endUs }) => endUs === null)) seen.add('back to the end');
        if (reference.back.some(({ endUs, breaths }) => endUs !== null && breaths > 1))
          seen.add('back for a while');
      }),
      { numRuns, seed },
    );
    expect([...seen].sort()).toEqual(
      [
        ...['startUs', 'endUs', 'breaths', 'perMin', 'effectiveUs', 'beganUnder60', 'announcedToFirstUs'],
        ...['firstCheckAfterUs', 'after60', 'back', 'effective for a while', 'began under 60'],
        ...['compressions after 60', 'no compression after 60', 'back to the end', 'back for a while'],
      ].sort(),
    );
  }, 3_600_000);

  it('is the same in a journal that begins later, but for the times of the clock', () => {
    let asked = 0;
    fc.assert(
      fc.property(anyJournal(), fc.constantFrom(1, 333.333, 3_600_000.001), ({ open, lines }, byMs) => {
        const later = lines.map(({ number, line }) => ({ number, line: shifted(line, byMs) }));
        const [one, other] = [lines, later].map((of) => reportOf(replay(open, of)).ventilationStage);
        if (!one) return;
        asked += 1;
        expect(other).toMatchObject({
          breaths: one.breaths,
          breathsPerMin: one.breathsPerMin,
          effectiveMs: one.effectiveMs,
          announcedToFirstMs: one.announcedToFirstMs,
          firstCheckAfterMs: one.firstCheckAfterMs,
          compressionsAfter60: one.compressionsAfter60,
          after60Ms: one.after60Ms,
        });
      }),
      { numRuns: 500, seed },
    );
    expect(asked).toBeGreaterThan(100);
  });
});

function shifted(line: NumberedLine['line'], byMs: number): NumberedLine['line'] {
  return line.at === undefined ? line : { ...line, at: Math.round((line.at + byMs) * 1000) / 1000 };
}

function byFold(open: OpenLine, lines: readonly NumberedLine[]): ReferenceVentilation | null {
  const stage = reportOf(replay(open, lines)).ventilationStage;
  if (stage === null) return null;
  const compressions = numberOf(stage.compressionsAfter60);
  return {
    startUs: usOf(stage.startMs),
    endUs: usOf(stage.endMs),
    breaths: stage.breaths,
    perMin: numberOf(stage.breathsPerMin),
    effectiveUs: usOf(stage.effectiveMs),
    beganUnder60: typeof stage.beganUnder60 === 'boolean' ? stage.beganUnder60 : null,
    announcedToFirstUs: usOf(stage.announcedToFirstMs),
    firstCheckAfterUs: usOf(stage.firstCheckAfterMs),
    after60: compressions === null ? null : { compressions, us: usOf(stage.after60Ms) ?? -1 },
    back: stage.backToVentilation.map(({ startMs, endMs, breaths }) => ({
      startUs: usOf(startMs) ?? -1,
      endUs: usOf(endMs),
      breaths,
    })),
  };
}

function usOf(figure: Figure): number | null {
  const ms = numberOf(figure);
  return ms === null ? null : Math.round(ms * 1000);
}
