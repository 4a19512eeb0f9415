import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { reportCsv } from '../../../electron/exports/report-csv.ts';
import { reportHtml } from '../../../electron/exports/report-html.ts';
import { reportText } from '../../../electron/exports/report-text.ts';
import { DrillDriver } from '../../../machines/drill-driver.ts';
import type { ScoredJournal } from '../../../machines/replay.ts';
import { instrumentOf } from '../../../machines/scoring/instrument.ts';
import { plusMinusOf } from '../../../machines/scoring/plus-minus.ts';
import type { BoutRow } from '../../../machines/scoring/report.ts';
import { drawSheet } from '../../../machines/sheet-drawing.ts';
import { headlineOf } from '../../../machines/words/headline.ts';
import { anyJournal } from '../../support/arbitrary-journal.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';
import { eightCycles, markOf, score, scoreOf, startMs, withRemarks } from '../../support/marked-drills.ts';

/** What the instructor says of a drill that is over: a row that the switch missed is in no figure, and counted. */
describe('a marked row', () => {
  it('is in no figure, and counted', () => {
    const before = scoreOf(eightCycles()).report;
    const { report, rows } = scoreOf(eightCycles().line(markOf(7000)));
    expect(before.drill.cycles).toEqual({ total: 8, exact: 7, coordinated: 7 });
    expect([report.drill.cycles, report.drill.leftOut]).toEqual([{ total: 7, exact: 7, coordinated: 7 }, 1]);
    expect(report.bouts.map(({ cycles, leftOut }) => [cycles.total, leftOut])).toEqual([[7, 1]]);
    expect(report.drill.people.A.compressor.leftOut).toBe(1);
    expect([report.drill.compressionsPerMin, report.drill.breathsPerMin]).toEqual([90, 30]);
    expect(rows.map(({ isLeftOut }) => isLeftOut)).toEqual([
      false,
      false,
      false,
      true,
      ...Array(4).fill(false),
    ]);
    expect(report.warnings).toEqual([]);
  });
  it('takes its time and presses out of the rates with dead time too', () => {
    const { attempt } = scoreOf(eightCycles()).report.drill;
    const without = scoreOf(eightCycles().line(markOf(7000))).report.drill.attempt;
    expect(without.ms).toBe(attempt.ms - 4000);
    expect(without.compressionsPerMin).toBeCloseTo((24 * 60_000) / without.ms, 9);
    expect(without.breathsPerMin).toBeCloseTo((8 * 60_000) / without.ms, 9);
  });
  it('makes no neighbours of those beside it', () => {
    const journal = () => {
      const builder = new JournalBuilder().call(0, 'begin');
      let at = 1000;
      for (const length of [2000, 2020, 2100, 2000, 2040]) {
        builder.cycle([at, at + 500, at + 1000], at + 1500);
        at += length;
      }
      return builder.cycle([at], null).call(20_000, 'finish').line({ kind: 'close', at: 90_000 });
    };
    const jitter = (builder: JournalBuilder) => scoreOf(builder).report.drill.cycleJitterMs;
    expect(jitter(journal())).toBeCloseTo(Math.sqrt((20 ** 2 + 80 ** 2 + 100 ** 2 + 40 ** 2) / 8), 9);
    // 2,000 to 2,020 and 2,000 to 2,040 are left; 2,020 and 2,000 are no pair.
    expect(jitter(journal().line(markOf(5020)))).toBeCloseTo(Math.sqrt((20 ** 2 + 40 ** 2) / 4), 9);
  });
  it('is in no ± either, whose pairs of neighbours do not reach over it', () => {
    const journal = new JournalBuilder().call(0, 'begin');
    let at = 1000;
    for (let cycle = 0; cycle < 26; cycle += 1) {
      journal.cycle([at, at + 500, at + 1000], at + 1500);
      at += 2000 + 20 * ((cycle * 7) % 5);
    }
    const marked = journal.line(markOf(1000 + 2000 + 2040 + 2080)).call(80_000, 'finish');
    const { report, rows } = scoreOf(marked);
    const instrument = instrumentOf(journal.open, ['A']);
    const runs = [rows.slice(0, 3), rows.slice(4)];
    expect(report.drill.leftOut).toBe(1);
    expect(report.drill.plusMinus).toEqual(plusMinusOf(runs, 'standard', instrument));
    expect(report.drill.plusMinus).not.toEqual(plusMinusOf([runs.flat()], 'standard', instrument));
  });
  it('is drawn quietly on the sheet, with words and without tint', () => {
    const shapesOf = ({ report, rows }: ScoredJournal) =>
      drawSheet({ report, rows, tolerance: 'standard' }).shapes;
    const before = shapesOf(scoreOf(eightCycles()));
    const shapes = shapesOf(scoreOf(eightCycles().line(markOf(7000))));
    const count = (of: typeof shapes, ink: string) => of.filter((shape) => shape.ink === ink).length;
    expect([count(before, 'tint'), count(before, 'fault'), count(before, 'compression')]).toEqual([1, 1, 27]);
    expect([count(shapes, 'tint'), count(shapes, 'fault'), count(shapes, 'compression')]).toEqual([0, 0, 21]);
    expect(shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : []))).toEqual(
      expect.arrayContaining(['the switch missed it', '1 left out', '7 of 7 cycles']),
    );
  });
  it('is said beside the headline, and in every file', () => {
    const scored = scoreOf(eightCycles().line(markOf(7000)).line(markOf(1000)));
    const words = '2 cycles left out: the switch missed them';
    expect(headlineOf(scored.report, scored.rows)).toBe(
      `Timing only: 6 of your 6 cycles were three compressions and a breath, each in its place, with the count off. Within them that is 90 compressions and 30 breaths a minute, where 90 and 30 are wanted. ${words}.`,
    );
    expect(reportText('a', scored)).toMatch(new RegExp(`Left out +${words}`));
    expect(reportHtml('a', scored)).toContain(`<th scope="row">Left out</th><td>${words}</td>`);
    expect(reportCsv('a', scored)).toContain(',drill,,,,leftOut,2,');
    expect(reportCsv('a', scored)).toContain(',bout,1,,,leftOut,2,');
  });
  it('leaves a headline where there is none other', () => {
    const marks = scoreOf(eightCycles()).rows.map((row) => markOf(startMs(row)));
    const { report, rows } = scoreOf(marks.reduce((builder, mark) => builder.line(mark), eightCycles()));
    expect(headlineOf(report, rows)).toBe(
      'Timing only: there is no cycle to report. 8 cycles left out: the switch missed them.',
    );
    expect(report.drill.coordinatedShare).toEqual({ value: null, reason: 'no complete cycle' });
    expect(report.drill.leftOut).toBe(8);
  });
  it('that is not there is a warning', () => {
    const { report } = scoreOf(eightCycles().line(markOf(7001)));
    expect(report.warnings).toEqual([
      expect.stringMatching(/^line \d+: mark was ignored: no complete cycle starts at 7001 ms$/),
    ]);
    expect(report.drill.leftOut).toBe(0);
  });
});

describe('a handover beside marked rows', () => {
  /** Six cycles, a swap with a gap, six more. */
  const swapped = () =>
    new JournalBuilder()
      .call(0, 'begin')
      .ideal(1000, 6)
      .press('chest', 13_000, 13_200)
      .call(13_300, 'swap')
      .ideal(16_000, 7)
      .call(31_000, 'finish')
      .line({ kind: 'close', at: 90_000 });
  const handoverOf = (...rows: number[]) => {
    const builder = rows.reduce((journal, row) => journal.line(markOf(row)), swapped());
    const { firstCycleRight, before5, after5, settleMs } = scoreOf(builder).report.handovers[0] ?? {};
    return { firstCycleRight, before5, after5, settleMs };
  };
  it('looks at five cycles that count, and settles only with three beside each other', () => {
    expect(handoverOf()).toEqual({ firstCycleRight: true, before5: 5, after5: 5, settleMs: 0 });
    expect(handoverOf(11_000, 18_000)).toEqual({
      firstCycleRight: true,
      before5: 5,
      after5: 5,
      settleMs: 4000,
    });
  });
  it('has no first cycle and too few where they are left out', () => {
    expect(handoverOf(1000, 3000, 16_000, 18_000)).toEqual({
      firstCycleRight: { value: null, reason: 'left out: the switch missed it' },
      before5: { value: null, reason: 'under five cycles before it' },
      after5: { value: null, reason: 'under five cycles after it' },
      settleMs: 4000,
    });
  });
});

describe('in any journal', () => {
  const RUNS = { numRuns: 150 };
  /** Some of a journal's rows, by a choice for each. */
  const anyMarked = fc.tuple(anyJournal(), fc.array(fc.boolean(), { minLength: 1, maxLength: 7 }));

  it('marking and taking it back changes nothing, wherever the lines stand', () => {
    fc.assert(
      fc.property(anyMarked, fc.nat(), ([journal, choice], place) => {
        const before = score(journal);
        const rows = before.rows.filter((_, index) => choice[index % choice.length]);
        const marks = rows.flatMap((row) => [markOf(startMs(row)), markOf(startMs(row), false)]);
        expect(score(withRemarks(journal, marks))).toEqual(before);
        const late = withRemarks(journal, marks, 10_000);
        expect(score(late)).toEqual(before);
        const middle = place % journal.lines.length;
        const lines = [
          ...journal.lines.slice(0, middle),
          ...marks.map((line, index) => ({ number: 1_000_000 + index, line: { ...line, at: 0 } })),
          ...journal.lines.slice(middle),
        ];
        expect(score({ open: journal.open, lines })).toEqual(before);
      }),
      RUNS,
    );
  });

  it('the figures are those of the rows that are left, worked out by hand', () => {
    let leftOut = 0;
    fc.assert(
      fc.property(anyMarked, ([journal, choice]) => {
        const { rows } = score(journal);
        const out = new Set(rows.filter((_, index) => choice[index % choice.length]).map(startMs));
        leftOut += out.size;
        const marked = score(
          withRemarks(
            journal,
            [...out].map((row) => markOf(row)),
          ),
        );
        marked.report.bouts.forEach((bout, index) => {
          const all = rows.filter((row) => row.bout === index);
          const left = all.filter((row) => !out.has(startMs(row)));
          const us = left.reduce((sum, row) => sum + row.lengthUs, 0);
          expect([bout.cycles.total, bout.leftOut]).toEqual([left.length, all.length - left.length]);
          const presses = left.reduce((sum, { compressions }) => sum + compressions.length, 0);
          expect(bout.compressions).toBe(presses);
          if (us > 0) expect(bout.compressionsPerMin).toBeCloseTo((presses * 60_000_000) / us, 6);
          expect(bout.cycleJitterMs).toEqual(jitterOf(all, out));
        });
        const sheet = drawSheet({ ...marked, tolerance: journal.open.tolerance });
        const words = sheet.shapes.filter(
          (shape) => shape.kind === 'words' && shape.text === 'the switch missed it',
        );
        expect(words).toHaveLength(marked.rows.filter(({ isLeftOut }) => isLeftOut).length);
      }),
      RUNS,
    );
    expect(leftOut).toBeGreaterThan(100);
  });

  it('a live drill that hears the remarks after close has the report of the replay', () => {
    fc.assert(
      fc.property(anyMarked, ([journal, choice]) => {
        const { rows } = score(journal);
        const marks = rows
          .filter((_, index) => choice[index % choice.length])
          .map((row) => markOf(startMs(row)));
        const marked = withRemarks(journal, marks);
        const driver = new DrillDriver(journal.open);
        for (const line of marked.lines) driver.take([line]);
        expect(driver.endAndReport()).toEqual(score(marked).report);
      }),
      { numRuns: 100 },
    );
  });
});

/** √(Σ(d′−d)² ÷ 2k) over pairs of rows that stand beside each other, both exact and neither left out. */
function jitterOf(rows: readonly BoutRow[], out: ReadonlySet<number>): unknown {
  const isIn = (row: BoutRow) =>
    row.compressions.length === 3 && row.breaths.length === 1 && !out.has(startMs(row));
  const squares = rows.flatMap((row, index) => {
    const before = rows[index - 1];
    if (before === undefined || !isIn(before) || !isIn(row)) return [];
    return [(row.lengthUs - before.lengthUs) ** 2];
  });
  if (squares.length < 2) return { value: null, reason: 'under two neighbouring pairs of exact cycles' };
  const sum = squares.reduce((total, square) => total + square, 0);
  return Math.sqrt(sum / (2 * squares.length)) / 1000;
}
