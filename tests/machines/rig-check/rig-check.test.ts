import { describe, expect, it } from 'vitest';
import { checkLine, type RigCheck } from '../../../machines/journal.ts';
import { openProblem } from '../../../machines/journal-reader.ts';
import { rigOfDrill } from '../../../machines/rig-check/rig-check.ts';
import { rigCheckSentence, rigStanding, uncheckedNotice } from '../../../machines/words/rig-check.ts';
import { openLine } from '../../support/journal-builder.ts';

const PASSED: RigCheck = {
  outcome: 'passed',
  at: '2026-03-02T09:12:30.000Z',
  techniques: ['two-thumb'],
  stances: ['foot-end', 'side'],
};
const FAILED: RigCheck = { ...PASSED, outcome: 'failed' };
const SKIPPED: RigCheck = { ...PASSED, outcome: 'skipped' };
const MANIKIN = { rig: 'manikin', technique: 'two-thumb', stance: 'foot-end' } as const;
const TWO_FINGER = { technique: 'two-finger', stance: 'foot-end' } as const;

describe('what the open line says of the rig', () => {
  it('is manikin only when it was checked that day, and passed, with how the drill opens', () => {
    expect([
      rigOfDrill(MANIKIN, PASSED),
      rigOfDrill({ ...MANIKIN, ...TWO_FINGER }, PASSED),
      rigOfDrill(MANIKIN, FAILED),
      rigOfDrill(MANIKIN, SKIPPED),
      rigOfDrill(MANIKIN, null),
      rigOfDrill({ ...MANIKIN, rig: 'rhythm' }, PASSED),
    ]).toEqual([
      { rig: 'manikin', rigCheck: PASSED },
      { rig: 'rhythm', rigCheck: PASSED },
      { rig: 'rhythm', rigCheck: FAILED },
      { rig: 'rhythm', rigCheck: SKIPPED },
      { rig: 'rhythm', rigCheck: { outcome: 'not-done' } },
      { rig: 'rhythm' },
    ]);
  });

  it.each([
    [
      'a manikin rig that failed',
      { rig: 'manikin', rigCheck: FAILED },
      'is failed, which only a rhythm rig may have',
    ],
    [
      'a manikin rig that was not checked',
      { rig: 'manikin', rigCheck: { outcome: 'not-done' } },
      'is not-done, which only a rhythm rig may have',
    ],
    [
      'a technique it was not checked with',
      { rig: 'manikin', rigCheck: PASSED, technique: 'two-finger' },
      'was made without two-finger, foot-end',
    ],
  ] as const)('cannot be %s', (_what, over, problem) => {
    expect(openProblem(openLine(over as Parameters<typeof openLine>[0]))).toEqual({
      field: 'rigCheck',
      problem,
    });
  });

  it('may be silent, as in older journals', () => {
    expect(openProblem(openLine({ rig: 'manikin' }))).toBe(null);
  });
});

describe('a malformed rig check', () => {
  it.each([
    ['an outcome nobody knows', { ...PASSED, outcome: 'perfect' }, 'rigCheck.outcome'],
    ['a time of day alone', { ...PASSED, at: '09:12' }, 'rigCheck.at'],
    ['no time', { outcome: 'passed', techniques: ['two-thumb'], stances: ['side'] }, 'rigCheck.at'],
    ['no technique', { ...PASSED, techniques: [] }, 'rigCheck.techniques'],
    ['a technique nobody knows', { ...PASSED, techniques: ['fist'] }, 'rigCheck.techniques.0'],
    ['a stance twice', { ...PASSED, stances: ['side', 'side'] }, 'rigCheck.stances'],
    ['a word', 'passed', 'rigCheck'],
  ])('with %s is refused, and the field is named', (_what, rigCheck, field) => {
    expect(checkLine({ ...openLine(), rigCheck })).toMatchObject({ ok: false, field });
  });

  it('is not one that is well', () => {
    for (const rigCheck of [PASSED, FAILED, SKIPPED, { outcome: 'not-done' }]) {
      expect(checkLine({ ...openLine(), rigCheck })).toMatchObject({ ok: true, line: { rigCheck } });
    }
  });
});

describe('what every report says of it', () => {
  const said = (
    rig: 'manikin' | 'rhythm',
    rigCheck: RigCheck | undefined,
    bouts: Parameters<typeof rigCheckSentence>[1] = [MANIKIN],
  ) => rigCheckSentence({ rig, rigCheck }, bouts);

  it('is when and with what, or why it is rhythm only', () => {
    expect([
      said('manikin', PASSED),
      said('manikin', PASSED, [MANIKIN, TWO_FINGER, TWO_FINGER]),
      said('rhythm', PASSED, [TWO_FINGER]),
      said('rhythm', SKIPPED),
      said('rhythm', FAILED),
      said('rhythm', { outcome: 'not-done' }),
      said('manikin', undefined),
      said('rhythm', undefined),
    ]).toEqual([
      'Rig checked that day, 2026-03-02 09:12 UTC: two-thumb, foot-end and side.',
      'Rig checked that day, 2026-03-02 09:12 UTC: two-thumb, foot-end and side. Not checked with two-finger, foot-end: read those stretches as rhythm only.',
      'Rhythm only: the rig was checked that day, 2026-03-02 09:12 UTC: two-thumb, foot-end and side. Not checked with two-finger, foot-end: read those stretches as rhythm only.',
      'Rhythm only: the rig check was skipped (2026-03-02 09:12 UTC).',
      'Rhythm only: the rig check was not passed (2026-03-02 09:12 UTC).',
      'Rhythm only: the rig was not checked that day.',
      'Whether the rig was checked is not in this journal.',
      null,
    ]);
  });

  it('is said on the Floor when a manikin drill goes on with what was not checked', () => {
    const open = { rig: 'manikin', rigCheck: PASSED } as const;
    expect([
      uncheckedNotice(open, MANIKIN),
      uncheckedNotice(open, TWO_FINGER),
      uncheckedNotice({ ...open, rig: 'rhythm' }, TWO_FINGER),
    ]).toEqual([
      null,
      'The rig was not checked with two-finger, foot-end: what is done so is to be read as rhythm only.',
      null,
    ]);
  });

  it('is said before the drill too', () => {
    expect([
      rigStanding(PASSED, '09:12', MANIKIN),
      rigStanding(PASSED, '09:12', TWO_FINGER),
      rigStanding(SKIPPED, '09:12', MANIKIN),
      rigStanding(null, '', MANIKIN),
    ]).toEqual([
      'Checked today at 09:12: two-thumb, foot-end and side.',
      'Checked today at 09:12: two-thumb, foot-end and side. Not with two-finger, foot-end: a drill that opens so is recorded as a rhythm drill.',
      'The check was skipped today at 09:12: drills are recorded as rhythm drills.',
      'Not checked today: until it is, drills are recorded as rhythm drills.',
    ]);
  });
});
