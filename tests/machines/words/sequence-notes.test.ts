import { describe, expect, it } from 'vitest';
import { type SequenceSituation, sequenceNotes } from '../../../machines/words/sequence-notes.ts';

const at = (nowMs: number, over: Partial<SequenceSituation> = {}) =>
  sequenceNotes({
    stage: 'ventilating',
    context: { compressingSinceMs: null },
    ventilation: { breaths: 12, breathsPerMin: 40.2, effectiveFromMs: null },
    guideline: 'uk-european-style',
    rig: 'manikin',
    nowMs,
    ...over,
  });

describe('what the instructor of a whole sequence is told', () => {
  it('is how the ventilation goes, its effective time in steps of 5 s', () => {
    expect(at(30_000)).toEqual(['12 breaths, 40 a minute; effective once “Chest rises” is ticked.']);
    expect(at(30_000, { rig: 'rhythm' })).toEqual(['12 breaths, 40 a minute.']);
    const since = {
      breaths: 1,
      breathsPerMin: { value: null, reason: 'under two breaths' } as const,
      effectiveFromMs: 4000,
    };
    expect(at(33_999, { ventilation: since })).toEqual(['1 breath; effective for 25 s.']);
    expect(at(34_000, { ventilation: since, stage: 'checking' })).toEqual(['1 breath; effective for 30 s.']);
  });
  it('is when the preset has the next check, with how far that was verified', () => {
    const compressing = { stage: 'compressing', context: { compressingSinceMs: 40_000 } };
    expect(at(69_999, compressing)).toEqual(['Next check: 30 s after compressions began.']);
    expect(at(70_000, compressing)).toEqual(['A check is due: 30 s after compressions began.']);
    expect(at(100_000, { ...compressing, guideline: 'us-style' })).toEqual([
      'A check is due: 60 s after compressions began (from memory, not verified: see your course’s book).',
    ]);
  });
  it('is nothing where there is no such number, or nothing to wait for', () => {
    const compressing = { stage: 'compressing', context: { compressingSinceMs: 40_000 } };
    expect(at(70_000, { ...compressing, guideline: 'my-own' })).toEqual([]);
    expect(at(70_000, { ...compressing, stage: 'resting' })).toEqual([]);
    expect(at(70_000, { ...compressing, ventilation: null })).toEqual([]);
    expect(at(0, { stage: 'notBegun' })).toEqual([]);
  });
});
