import { expect, test } from 'vitest';
import {
  check,
  newPlan,
  practise,
  READY_MADE,
  READY_MADE_NAMES,
  rest,
  ventilation,
} from '../../../machines/plans/ready-made.ts';
import {
  calledWords,
  leftWords,
  legWords,
  planCautions,
  plannedSentence,
  soonWords,
} from '../../../machines/words/plan-words.ts';

test('a leg is a line in the design’s words, with names where they are known', () => {
  const leg = practise({
    compressor: 'B',
    technique: 'two-finger',
    stance: 'side',
    airway: 'secured',
    cycleMs: 3000,
  });
  expect([
    legWords(leg),
    legWords(leg, { A: 'Ada', B: 'Ben' }),
    legWords(rest(30)),
    legWords(check(null)),
    legWords(check(50)),
    legWords(ventilation()),
  ]).toEqual([
    'second person compresses, two-finger, side, airway secured, weaned, slow: a cycle in 3 s, 1:00',
    'Ben compresses, two-finger, side, airway secured, weaned, slow: a cycle in 3 s, 1:00',
    'rest, 0:30',
    'heart-rate check, 0:10',
    'heart-rate check: 50, 0:10',
    'ventilation alone, mask, 0:30',
  ]);
});

test('a warning names what is called and nothing that is only heard', () => {
  expect(
    soonWords([
      { call: 'swap' },
      { call: 'technique', technique: 'two-finger' },
      { call: 'guidance', guidance: 'led' },
    ]),
  ).toBe('Swap, two-finger soon');
  expect(soonWords([{ call: 'tempo', cycleMs: 3000 }])).toBe('');
  expect(soonWords([{ call: 'checked' }])).toBe('Check over soon');
});

test('the time left moves in steps of 5 s, and is never said to be over before it is', () => {
  expect([0, 1, 5000, 5001, 119_999, 120_000].map(leftWords)).toEqual([
    '0:00',
    '0:05',
    '0:05',
    '0:10',
    '2:00',
    '2:00',
  ]);
});

test('how a leg is called is said in full', () => {
  expect([
    calledWords({ by: 'instructor' }),
    calledWords({ by: 'itself', warningSeconds: 0 }),
    calledWords({ by: 'itself', warningSeconds: 15 }),
  ]).toEqual(['when the instructor calls it', 'by itself', 'by itself, after 15 s of warning']);
});

test('of the ready-made plans only the one with two-finger is warned about', () => {
  expect(READY_MADE_NAMES.filter((name) => planCautions(READY_MADE[name]).length > 0)).toEqual([
    'both-techniques',
  ]);
});

test('compressions after a heart rate of 60 or more are warned about', () => {
  const withRate = (bpm: number) => ({ ...newPlan('A plan'), legs: [practise(), check(bpm), practise()] });
  expect(planCautions(withRate(59))).toEqual([]);
  expect(planCautions(withRate(60))).toEqual([
    'Compressions follow a heart rate of 60 or more: by the guidelines they stop there.',
  ]);
});

test('the Debrief says what was meant, and nothing where nothing was', () => {
  expect([plannedSentence({}), plannedSentence({ plan: READY_MADE['two-minutes-then-swap'] })]).toEqual([
    null,
    'Planned: Two minutes, then swap (2 legs, 4:00). What really happened is below.',
  ]);
});
