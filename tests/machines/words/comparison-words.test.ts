import { describe, expect, it } from 'vitest';
import {
  comparisonCaution,
  comparisonLines,
  comparisonNote,
  comparisonSentences,
  comparisonText,
  comparisonTitle,
} from '../../../machines/words/comparison-words.ts';
import { compareTechniques, fourComparisons, seriesComparison } from '../../support/comparison-drills.ts';
import { exactRow } from '../../support/rows.ts';

const PEOPLE = { A: 'Ada', B: 'Ben' };
/** So many of 20 cycles coordinated; the breath `later` ms late in two-finger. */
const drill = (coordinated: readonly number[], later = 0) =>
  compareTechniques(
    coordinated.map((count, turn) => ({
      value: turn % 2 === 0 ? 'two-thumb' : 'two-finger',
      runs: [
        Array.from({ length: 20 }, (_, cycle) =>
          exactRow(2000, cycle < count ? 500 : 700, 1000, 1500 + (turn % 2) * later),
        ),
      ],
    })),
  );

describe('over three stretches a side', () => {
  const found = drill([2, 8, 1, 10, 6, 12], 100);
  it('the instructor reads each figure with its interval, what would be of use, and what can be said', () => {
    expect(comparisonTitle(found, PEOPLE)).toBe('Two-thumb and two-finger: 3 and 3 stretches');
    expect(comparisonLines(found)).toEqual([
      {
        label: 'Coordinated',
        first: '9 of 60 cycles',
        second: '30 of 60 cycles',
        difference: '30 in 100 cycles (1 to 59)',
        smallestUseful: '10 in 100 cycles',
        verdict: 'different',
      },
      {
        label: 'Cycle jitter',
        first: '0 ms',
        second: '0 ms',
        difference: '0 ms (−1 to 1)',
        smallestUseful: '50 ms',
        verdict: 'no useful difference',
      },
      {
        label: 'Breath lag by the triplet’s interval',
        first: '1.00',
        second: '1.20',
        difference: '0.20 (0.20 to 0.20)',
        smallestUseful: '0.10',
        verdict: 'different',
      },
    ]);
  });
  it('the pair reads no milliseconds', () => {
    expect(comparisonSentences(found, PEOPLE)).toEqual([
      'Two-finger: more cycles coordinated than two-thumb.',
      'Two-finger: the breath came later than two-thumb.',
      'No useful difference in how even the cycles were.',
    ]);
  });
  it('where there is too little to say, that is said', () => {
    expect(comparisonSentences(drill([10, 5, 15, 18, 2, 20]), PEOPLE)).toEqual([
      'No useful difference in how even the cycles were and where the breath came.',
      'Too little to say of how many cycles were coordinated.',
    ]);
  });
});

describe('over one stretch a side', () => {
  const found = { ...drill([20, 14]), alike: { role: 'B', stance: 'side', guidance: 'led' } } as const;
  it('it says only by how much they differ', () => {
    expect(comparisonTitle(found, PEOPLE)).toBe(
      'Two-thumb and two-finger: Ben compresses, side, led, a stretch each',
    );
    expect(comparisonSentences(found, PEOPLE)).toEqual([
      'These two stretches differ by 30 coordinated cycles in 100 (two-thumb 20 of 20 cycles, two-finger 14 of 20 cycles).',
      'It says nothing of what they were for: that takes three stretches or more a side, by turns.',
    ]);
    expect(comparisonText(found, PEOPLE)[1]).toBe(
      'Cycle jitter: two-thumb 0 ms, two-finger 0 ms; two-finger less two-thumb 0 ms; smallest useful 50 ms: these two stretches differ by this; nothing more can be said',
    );
  });
});

describe('over stretches that are still too few', () => {
  const said = (coordinated: readonly number[]) => {
    const found = drill(coordinated);
    return [comparisonSentences(found, PEOPLE)[0], comparisonLines(found)[0]?.verdict];
  };
  it('two and two are no two stretches', () => {
    expect(said([20, 14, 20, 14])).toEqual([
      'These 2 and 2 stretches differ by 30 coordinated cycles in 100 (two-thumb 40 of 40 cycles, two-finger 28 of 40 cycles).',
      'these 2 and 2 stretches differ by this; nothing more can be said',
    ]);
  });
  it('none is no difference, and one cycle is one', () => {
    expect(said([20, 20])[0]).toBe(
      'These two stretches do not differ in coordinated cycles (two-thumb 20 of 20 cycles, two-finger 20 of 20 cycles).',
    );
    expect(said(Array.from({ length: 5 }, (_, turn) => (turn === 3 ? 20 : 19)))[0]).toContain(
      'These 3 and 2 stretches differ by 3 coordinated cycles in 100',
    );
  });
});

describe('the note under them', () => {
  const byTurns = [2, 8, 1, 10, 6, 12];
  it('says what is by turns, and of how many α is shared', () => {
    expect(comparisonNote([drill(byTurns), drill([20, 14])])).toContain(
      'The three figures share a chance of 5 % of a false difference in the drill (tool default): each interval is one of 98.3 %',
    );
    expect(comparisonNote(fourComparisons(1, { correlation: 0 }))).toContain(
      'The three figures of all 4 comparisons by turns share a chance of 5 % of a false difference in the drill (tool default): each interval is one of 99.6 %',
    );
    expect(comparisonNote([drill([20, 14])])).not.toContain('%');
  });
});

it('with every comparison of techniques goes which of them is the method of choice', () => {
  const caution = 'Two-thumb is the method of choice; timing alone cannot compare the techniques.';
  expect(comparisonCaution(drill([20, 14]))).toBe(caution);
  expect(comparisonCaution({ of: 'role' })).toBeNull();
});

it('nobody reads of p-values or significance, nor the pair of milliseconds', () => {
  for (const stretches of [2, 6]) {
    const found = seriesComparison(1, {
      correlation: 0,
      stretches,
      effect: { lengthSdMs: 100, lengthMs: 0, lagMs: 100 },
    });
    const sentences = comparisonSentences(found, PEOPLE).join(' ');
    expect(sentences).not.toMatch(/\bms\b|\d\.\d/);
    expect([...comparisonText(found, PEOPLE), sentences, JSON.stringify(found)].join(' ')).not.toMatch(
      /\bp\b|signific/i,
    );
  }
});
