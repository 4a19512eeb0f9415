import { expect, test } from 'vitest';
import { checkLine } from '../../../machines/journal.ts';
import { none } from '../../../machines/scoring/figure.ts';
import { contactsOf } from '../../../machines/switches/contacts.ts';
import { journalFieldsOf } from '../../../machines/switches/journal-fields.ts';
import { checkSwitches } from '../../../machines/switches/switch-check.ts';
import { openLine } from '../../support/journal-builder.ts';
import { CLEAN, randomFor, stampsOf, tapsOf, together } from '../../support/switch-stream.ts';

const SWITCHES = [
  { name: 'chest', toldStepMs: 1 },
  { name: 'airway', toldStepMs: 8 },
] as const;

test('a whole check of a key and a pad finds everything at once', () => {
  const random = randomFor(1);
  const key = { ...CLEAN, clockMs: 1, bounceMs: 5, repeat: { afterMs: 500, everyMs: 33 } };
  const pad = { ...CLEAN, pollMs: 8, jitterMs: 0.2, lateMs: 10 };
  const [alone, held, both] = [
    tapsOf(random, 30),
    tapsOf(random, 1, 25_000, 1500),
    tapsOf(random, 10, 30_000),
  ];
  const check = checkSwitches(
    together(
      stampsOf(random, 'chest', [...alone, ...held, ...both], key),
      stampsOf(
        random,
        'airway',
        [...tapsOf(random, 30, 60_000), ...both].sort((a, b) => a.onMs - b.onMs),
        pad,
      ),
    ),
    SWITCHES,
  );
  expect(check).toMatchObject({
    switches: [
      {
        name: 'chest',
        bounce: { n: 41 },
        autoRepeat: { isRepeating: true, everyMs: 33 },
        release: { isSlow: false },
      },
      { name: 'airway', bounce: { longestMs: 0 }, autoRepeat: none('no press was held for a second') },
    ],
    offset: { n: 10 },
    bounceLimitMs: 25,
  });
  const [chest, airway] = check.switches;
  expect('stepMs' in chest.step && chest.step.stepMs).toBeCloseTo(1, 3);
  expect('stepMs' in airway.step && airway.step.stepMs).toBeCloseTo(8, 1);
  // What was found can stand in a journal as it is.
  const { sources, switchOffset, bounceMs } = journalFieldsOf(check, true);
  expect(switchOffset).toMatchObject({ n: 10, applied: true });
  expect(
    checkLine({
      ...openLine(),
      bounceMs,
      switchOffset,
      sources: {
        chest: { kind: 'keyboard', ...sources.chest },
        airway: { kind: 'game-pad', ...sources.airway },
      },
    }),
  ).toMatchObject({
    ok: true,
    unknownFields: 0,
    line: { bounceMs: 25, sources: { chest: { stepMs: 1 }, airway: { bounceMs: 0 } } },
  });
  // 10 ms late, and half a poll on average.
  expect('n' in check.offset && Math.abs(check.offset.medianMs - 14) <= check.offset.errorMs).toBe(true);
});

test('before anything was pressed, each says what is wanted', () => {
  const check = checkSwitches([], SWITCHES);
  expect(check.switches[0]).toEqual({
    name: 'chest',
    step: none('not told: 0 of 40 intervals between stamps'),
    bounce: none('0 presses of 10 wanted'),
    autoRepeat: none('no press was held for a second'),
    release: none('0 presses of 8 wanted'),
  });
  expect(check.offset).toEqual(none('no press of both switches at once'));
  expect(journalFieldsOf(check, true)).toEqual({ sources: { chest: {}, airway: {} } });
  expect(check.bounceLimitMs).toEqual(none('the bounce of both switches is not known yet'));
});

test('a press is put together from its closings: those before the longest are bounce on press, after it on release', () => {
  const edges = [0, 2, 5, 105, 108, 110, 400, 500].map((atMs, index) => ({
    switch: 'chest' as const,
    down: index % 2 === 0,
    atMs,
  }));
  expect(contactsOf([{ switch: 'chest', down: false, atMs: -3 }, ...edges], 'chest')).toEqual([
    { onMs: 0, offMs: 110, opensOnPress: [3], opensOnRelease: [3], repeatsMs: [] },
    { onMs: 400, offMs: 500, opensOnPress: [], opensOnRelease: [], repeatsMs: [] },
  ]);
  expect(contactsOf(edges, 'airway')).toEqual([]);
  expect(contactsOf(edges.slice(0, 7), 'chest').at(-1)).toMatchObject({ onMs: 400, offMs: null });
});
