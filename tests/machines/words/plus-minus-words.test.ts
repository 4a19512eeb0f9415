import { describe, expect, it, test } from 'vitest';
import { reportText } from '../../../electron/exports/report-text.ts';
import { rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { scoreJournal } from '../../../machines/replay.ts';
import { none } from '../../../machines/scoring/figure.ts';
import { countTable, figureTable } from '../../../machines/words/figure-table.ts';
import { headlineOf } from '../../../machines/words/headline.ts';
import {
  equalWord,
  formatWithPlusMinus,
  PLUS_MINUS_NOTE,
  switchOffsetSentence,
} from '../../../machines/words/plus-minus-words.ts';
import { rateLines } from '../../../machines/words/screen-debrief.ts';

const { open, lines } = rehearse({ seed: 4, minutes: 2, plan: 'steady' });
const scored = scoreJournal({
  open,
  lines: lines.map((line, index) => ({ number: index + 2, line })),
  skipped: { lines: 0, fields: 0, tornBytes: 0 },
  isClosed: true,
});

test.each([
  [123.4, 4.2, 0, '123 ± 4'],
  [90.04, 0.26, 1, '90.0 ± 0.3'],
  [500, 0.3, 0, '500.0 ± 0.3'],
  [500, 0.001, 0, '500.00 ± 0.00'],
  [-3.2, 1.1, 0, '−3 ± 1'],
  [7, none('under 20 cycles'), 0, '7'],
  [7, undefined, 0, '7'],
])('%d with ± %j and %i decimals is “%s”', (value, plusMinus, decimals, text) => {
  expect(formatWithPlusMinus(value, plusMinus, decimals)).toBe(text);
});

describe('the instructor’s table', () => {
  const table = (figures: Parameters<typeof figureTable>[0]) =>
    figureTable(figures, 2000).flatMap(({ lines: all }) =>
      all.map(({ label, value }) => `${label}: ${value}`),
    );
  it('has ± beside its figures', () => {
    const { plusMinus } = scored.report.drill;
    const found = table(scored.report.drill);
    const median = formatWithPlusMinus(
      Number(scored.report.drill.cycleMs.median),
      plusMinus?.cycleMs.median,
      0,
    );
    expect(found).toContain(`Cycle, median: ${median} ms`);
    expect(median).toContain(' ± ');
    expect(found.find((line) => line.startsWith('Third compression to breath'))).toMatch(
      /: \d+ ± \d+ ms \(sd \d+ ± \d+ ms, n \d+\)$/,
    );
    expect(found.find((line) => line.startsWith('Pace inside the triplet'))).toMatch(/: \d+ ± \d+ a minute$/);
  });
  it('has none where it was not asked for', () => {
    const { plusMinus, ...drill } = scored.report.drill;
    expect(plusMinus).toBeDefined();
    expect(table(drill).filter((line) => line.includes('±'))).toEqual([]);
  });
  it('is the only place: the headline, which learners read, has none', () => {
    expect(headlineOf(scored.report, scored.rows)).not.toContain('±');
  });
});

describe('two figures side by side', () => {
  it('are called equal when they agree within their ±', () => {
    expect(equalWord({ figure: 90, plusMinus: 1 }, { figure: 89.2 })).toBe(' (equal)');
    expect(equalWord({ figure: 90, plusMinus: 1 }, { figure: 88.9 })).toBe('');
    expect(equalWord({ figure: 90 }, { figure: 90 })).toBe('');
    expect(equalWord({ figure: none('x'), plusMinus: 1 }, { figure: 90 })).toBe('');
  });
  it('as the rates inside cycles and over the whole attempt are', () => {
    const drill = scored.report.drill;
    const attempt = { ...drill.attempt, compressionsPerMin: drill.compressionsPerMin, breathsPerMin: 11 };
    const [compressions, breaths] = rateLines({ ...drill, attempt });
    expect(compressions?.inCycles).toMatch(/^\d+\.\d ± \d+\.\d+$/);
    expect(compressions?.attempt).toMatch(/ \(equal\)$/);
    expect(breaths?.attempt).toBe('11.0');
  });
});

it('with the count and without it, figures that agree within their ± are called equal', () => {
  const no = none('under four cycles');
  const state = (share: number, median: number, jitter: number) => ({
    cycles: 40,
    coordinated: 40 * share,
    coordinatedShare: share,
    cycleMs: { median, iqr: no },
    cycleJitterMs: jitter,
    plusMinus: {
      coordinatedShare: 0.05,
      cycleMs: { median: 20, iqr: no, mean: no, sd: no, cv: no },
      cycleJitterMs: 6,
    },
  });
  const spread = { mean: no, sd: no, n: 0 };
  const asynchronyMs = { compressor: spread, ventilator: spread };
  // √(0.05² + 0.05²) = 0.071, √(20² + 20²) = 28.3, √(6² + 6²) = 8.5.
  expect(
    countTable({ asynchronyMs, withCount: state(0.9, 2000, 30), withoutCount: state(0.95, 2030, 38) }),
  ).toEqual([
    {
      label: 'Coordinated',
      withCount: '36 of 40 cycles, 90 ± 5 %',
      withoutCount: '38 of 40 cycles, 95 ± 5 % (equal)',
    },
    { label: 'Cycle, median', withCount: '2000 ± 20 ms', withoutCount: '2030 ± 20 ms' },
    { label: 'Cycle, middle half spans', withCount: 'not measured', withoutCount: 'not measured' },
    { label: 'Cycle jitter', withCount: '30 ± 6 ms', withoutCount: '38 ± 6 ms (equal)' },
  ]);
});

describe('the offset between the switches', () => {
  const sentence = (medianMs: number, applied: boolean, binding: 'place' | 'person' = 'place') =>
    switchOffsetSentence({
      binding,
      switchOffset: { medianMs, spreadMs: 2.5, errorMs: 3.2, n: 10, applied },
    });
  it('is said to have been taken out, and how much', () => {
    expect(sentence(12, true)).toBe(
      'With both pressed at once the airway switch tells it 12.0 ± 3.2 ms after the chest switch (median of 10, middle half 2.5 ms): this was taken out of the airway switch’s times.',
    );
    expect(sentence(-12, true, 'person')).toContain(
      'the switch of A tells it 12.0 ± 3.2 ms after the switch of B',
    );
  });
  it('or to be in the figures', () => {
    expect(sentence(12, false)).toContain('this was not taken out, and figures between the two carry it.');
    expect(switchOffsetSentence({ binding: 'place', switchOffset: none('not known') })).toBe(
      'The offset between the two switches is not known: figures between the two carry it.',
    );
  });
  it('stands in the report, with what ± is', () => {
    const text = reportText('a.antiphon.jsonl', scored);
    expect(text).toContain(switchOffsetSentence(scored.report.drill));
    expect(text).toContain(PLUS_MINUS_NOTE);
  });
});
