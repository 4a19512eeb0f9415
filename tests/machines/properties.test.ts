import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DrillDriver } from '../../machines/drill-driver.ts';
import { DrillFold } from '../../machines/drill-fold.ts';
import type { BodyLine } from '../../machines/journal.ts';
import { type NumberedLine, readJournal } from '../../machines/journal-reader.ts';
import { replay, scoreJournal } from '../../machines/replay.ts';
import { type DrillReport, reportOf } from '../../machines/scoring/report.ts';
import { withPlusMinus } from '../../machines/scoring/report-plus-minus.ts';
import { anyText, textOf } from '../support/any-journal-text.ts';
import { type AnyJournal, anyJournal } from '../support/arbitrary-journal.ts';

/** What holds for any journal (house style section 8, design section 4). */
const timeOf = (line: BodyLine) => (line.kind === 'unknown' ? null : line.at);
const us = (ms: number) => Math.round(ms * 1000);
const reportFor = ({ open, lines }: AnyJournal) => reportOf(replay(open, lines));
const wholeReportFor = ({ open, lines }: AnyJournal) => {
  const fold = replay(open, lines);
  return withPlusMinus(reportOf(fold), fold);
};
const RUNS = { numRuns: 300 };

describe('shifting all times', () => {
  it('changes no figure, only the times that a report names', () => {
    const shiftUs = fc.oneof(
      fc.constantFrom(1, 999, 3_600_000_001),
      fc.integer({ min: 0, max: 80_000_000_000 }),
    );
    fc.assert(
      fc.property(anyJournal(), shiftUs, (journal, shift) => {
        const shifted = {
          ...journal,
          lines: journal.lines.map(({ number, line }) => ({ number, line: later(line, shift) })),
        };
        expect(atZero(wholeReportFor(shifted), shift)).toEqual(atZero(wholeReportFor(journal), 0));
      }),
      RUNS,
    );
  });
});

describe('a decision about a handover', () => {
  it('once given, is not revised by later lines', () => {
    fc.assert(
      fc.property(anyJournal(), ({ open, lines }) => {
        const fold = new DrillFold(open);
        const given: string[] = [];
        for (const line of lines) {
          if (line.line.kind === 'call' && line.line.call === 'undo') continue;
          fold.take(line);
          const now = decisionsOf(fold);
          expect(now.slice(0, given.length)).toEqual(given);
          given.splice(0, given.length, ...now);
        }
        fold.end();
        expect(decisionsOf(fold).slice(0, given.length)).toEqual(given);
      }),
      RUNS,
    );
  });
  it('and a row, once there, stay as they are', () => {
    fc.assert(
      fc.property(anyJournal(8), ({ open, lines }) => {
        const fold = new DrillFold(open);
        const given: string[] = [];
        for (const line of lines) {
          fold.take(line);
          for (let row = given.length; row < fold.tracker.book.rows.size; row += 1)
            given.push(JSON.stringify(fold.tracker.book.rows.get(row)));
        }
        fold.end();
        expect(fold.tracker.book.rows.slice(0, given.length).map((row) => JSON.stringify(row))).toEqual(
          given,
        );
      }),
      RUNS,
    );
  });
});

describe('any text', () => {
  it('gives an error that names a line, or a report without NaN or infinity', () => {
    let reports = 0;
    let errors = 0;
    fc.assert(
      fc.property(anyText, (text) => {
        const read = readJournal(text);
        if (read.ok) {
          reports += 1;
          expect(notFinite(scoreJournal(read.journal))).toEqual([]);
        } else {
          errors += 1;
          expect(read.error).toMatchObject({ line: expect.any(Number), problem: expect.any(String) });
        }
      }),
      { numRuns: 1500 },
    );
    expect(reports).toBeGreaterThan(100);
    expect(errors).toBeGreaterThan(100);
  });
  it('that is a journal gives the report of its lines', () => {
    fc.assert(
      fc.property(anyJournal(), (journal) => {
        const read = readJournal(textOf(journal));
        if (!read.ok) throw new Error(read.error.problem);
        const { report } = scoreJournal(read.journal);
        expect(notFinite(report)).toEqual([]);
        const { warnings, ...figures } = report;
        const { warnings: own, ...ownFigures } = wholeReportFor(journal);
        expect(figures).toEqual(ownFigures);
        expect(warnings.filter((warning) => !warning.includes('does not know'))).toEqual(own);
      }),
      RUNS,
    );
  });
});

describe('a live drill', () => {
  it('taken line by line, looked at after each, ends with the report of its replay', () => {
    fc.assert(
      fc.property(anyJournal(6), (journal) => {
        const driver = new DrillDriver(journal.open);
        for (const line of journal.lines) {
          driver.take([line]);
          expect(notFinite(driver.report())).toEqual([]);
        }
        expect(driver.endAndReport()).toEqual(wholeReportFor(journal));
      }),
      { numRuns: 100 },
    );
  });
});

describe('auto-repeat', () => {
  it('changes no figure', () => {
    fc.assert(
      fc.property(anyJournal(), (journal) => {
        expect(reportFor({ ...journal, lines: withRepeats(journal.lines) })).toEqual(reportFor(journal));
      }),
      RUNS,
    );
  });
});

describe('lines that say nothing', () => {
  it('change no figure, wherever they come', () => {
    fc.assert(
      fc.property(
        anyJournal(),
        fc.array(fc.tuple(fc.nat(), fc.double({ min: 0, max: 1, noNaN: true }))),
        (journal, notes) => {
          expect(reportFor({ ...journal, lines: withNotes(journal.lines, notes) })).toEqual(
            reportFor(journal),
          );
        },
      ),
      RUNS,
    );
  });
});

function later(line: BodyLine, shiftUs: number): BodyLine {
  if (line.kind === 'unknown') return line;
  const shifted = (ms: number) => (us(ms) + shiftUs) / 1000;
  const at = shifted(line.at);
  if (line.kind !== 'count') return { ...line, at };
  if (line.what === 'given') return { ...line, at, fromMs: shifted(line.fromMs) };
  return { ...line, at, lastMs: line.lastMs === null ? null : shifted(line.lastMs) };
}

const NAMED_TIMES = new Set(['startMs', 'endMs', 'calledMs', 'lastOldMs', 'firstNewMs', 'atMs']);

/** The report with every time it names moved back, in whole microseconds. */
function atZero(report: DrillReport, shiftUs: number): unknown {
  return JSON.parse(JSON.stringify(report), (key, value: unknown) =>
    NAMED_TIMES.has(key) && typeof value === 'number' ? us(value) - shiftUs : value,
  );
}

function decisionsOf(fold: DrillFold): string[] {
  const decided = fold.tracker.handovers.filter(({ outcome }) => outcome !== null);
  return decided.map(({ reasons, calledUs, outcome, lastOld, firstNew, oldBout, newBout }) =>
    JSON.stringify([reasons, calledUs, outcome, lastOld?.onUs, firstNew?.onUs, oldBout, newBout]),
  );
}

/** Paths of all numbers that are not finite. */
function notFinite(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => notFinite(inner, `${path}.${key}`));
}

/** Every edge twice, and once more just before its switch's next edge. */
function withRepeats(lines: readonly NumberedLine[]): NumberedLine[] {
  const last = new Map<string, BodyLine & { kind: 'edge' }>();
  let extra = 1_000_000;
  return lines.flatMap((entry) => {
    const { line } = entry;
    if (line.kind !== 'edge') return [entry];
    const before = last.get(line.switch);
    last.set(line.switch, line);
    const held = before === undefined ? [] : [{ number: extra++, line: { ...before, at: line.at } }];
    return [...held, entry, { number: extra++, line }];
  });
}

/** Notes between lines, at any time between theirs. */
function withNotes(
  lines: readonly NumberedLine[],
  notes: readonly (readonly [number, number])[],
): NumberedLine[] {
  const places = new Map(notes.map(([place, share]) => [place % lines.length, share]));
  return lines.flatMap((entry, index) => {
    const share = places.get(index);
    const to = timeOf(entry.line);
    if (share === undefined || to === null || entry.line.kind === 'unknown') return [entry];
    const from = lines.slice(0, index).findLast(({ line }) => timeOf(line) !== null)?.line;
    const fromUs = us((from && timeOf(from)) ?? 0);
    const atUs = fromUs + Math.floor((us(to) - fromUs) * share);
    const note: NumberedLine = {
      number: 2_000_000 + index,
      line: { kind: 'note', at: atUs / 1000, text: '' },
    };
    return [note, entry];
  });
}
