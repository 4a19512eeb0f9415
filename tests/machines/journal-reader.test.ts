import { describe, expect, it } from 'vitest';
import { type OpenLine, parseLine } from '../../machines/journal.ts';
import { JournalReader, readJournal } from '../../machines/journal-reader.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { openLine } from '../support/journal-builder.ts';

/** What holds between lines, and what a reader makes of a whole file. */
const json = (value: unknown) => JSON.stringify(value);
const begin = json({ kind: 'call', at: 0, call: 'begin' });
const edge = (at: number, name = 'chest', down = true) => json({ kind: 'edge', at, switch: name, down });
const close = (at: number) => json({ kind: 'close', at });
const fileOf = (lines: readonly string[], over: Partial<OpenLine> = {}) =>
  [json(openLine(over)), ...lines].map((line) => `${line}\n`).join('');
const errorOf = (text: string) => {
  const read = readJournal(text);
  return read.ok ? 'taken' : `${read.error.line}: ${read.error.field} ${read.error.problem}`;
};
const skippedOf = (text: string) => {
  const read = readJournal(text);
  return read.ok ? read.journal.skipped : read.error;
};

describe('a whole journal', () => {
  it('is read with its lines numbered as in the file', () => {
    const read = readJournal(fileOf([begin, edge(1), close(2)]));
    expect(read).toMatchObject({
      ok: true,
      journal: { isClosed: true, skipped: { lines: 0, fields: 0, tornBytes: 0 } },
    });
    expect(read.ok && read.journal.lines.map(({ number, line }) => [number, line.kind])).toEqual([
      [2, 'call'],
      [3, 'edge'],
      [4, 'close'],
    ]);
  });
  it('may lack its last newline, its close line, or everything but the open line', () => {
    expect(errorOf(fileOf([begin, edge(1)]).trimEnd())).toBe('taken');
    expect(readJournal(fileOf([]))).toMatchObject({ ok: true, journal: { isClosed: false, lines: [] } });
  });
});

const SIGNATURE = {
  kind: 'signature',
  person: 'A',
  signedAt: '2026-03-02T10:04:00.000Z',
  by: 'Cleo',
  standard: 'The course’s own',
  decision: 'met',
};

describe('the order of lines', () => {
  it.each([
    ['nothing at all', '', '1: null the file is empty: there is no open line'],
    ['no open line', `${begin}\n`, '1: kind is not open: a journal begins with its open line'],
    [
      'a line of later kind before open',
      '{"kind":"video"}\n',
      '1: kind is not open: a journal begins with its open line',
    ],
    ['two opens', fileOf([begin, json(openLine())]), '3: kind is open a second time'],
    ['time that goes back', fileOf([edge(5), edge(4.999)]), '3: at goes back from 5 to 4.999'],
    [
      'time that goes back in a line of later kind',
      fileOf([edge(5), '{"kind":"video","at":4}']),
      '3: at goes back from 5 to 4',
    ],
    ['time that stands still', fileOf([edge(5), edge(5)]), 'taken'],
    ['a line after close', fileOf([close(5), edge(6)]), '3: kind comes after the close line'],
    ['a line of later kind after close', fileOf([close(5), '{"kind":"video"}']), 'taken'],
    [
      'a call after close',
      fileOf([close(5), json({ kind: 'call', at: 5, call: 'undo' })]),
      '3: kind comes after the close line',
    ],
    ['a second close', fileOf([close(5), close(5)]), '3: kind comes after the close line'],
    [
      'what the instructor says after close, and what was cut off there',
      fileOf([
        close(5),
        json({ kind: 'mark', at: 5, row: 1000, missed: true }),
        json({ kind: 'recovered', at: 5, bytes: 3, text: '{"k' }),
        json({ ...SIGNATURE, at: 5 }),
      ]),
      'taken',
    ],
    [
      'time that goes back after close',
      fileOf([close(5), json({ kind: 'mark', at: 4, row: 1000, missed: true })]),
      '3: at goes back from 5 to 4',
    ],
    [
      'a person’s switch with place binding',
      fileOf([edge(1, 'A')]),
      '2: switch is A, which a place binding does not have',
    ],
    [
      'a place with person binding',
      fileOf([edge(1, 'chest')], { binding: 'person' }),
      '2: switch is chest, which a person binding does not have',
    ],
    ['a switch no binding has', fileOf([edge(1, 'F13')]), '2: switch is not one of chest, airway, A, B'],
    [
      'person binding on a manikin',
      fileOf([], { binding: 'person', rig: 'manikin' }),
      '1: binding is person, which only a rhythm rig may have',
    ],
    ['person binding on a rhythm rig', fileOf([edge(1, 'A')], { binding: 'person', rig: 'rhythm' }), 'taken'],
    ['place binding on a rhythm rig', fileOf([edge(1)], { rig: 'rhythm' }), 'taken'],
    [
      'no time source for a switch',
      fileOf([], { sources: { chest: { kind: 'keyboard', stepMs: 1 } } }),
      '1: sources.airway is missing',
    ],
  ])('with %s', (_, text, expected) => {
    expect(errorOf(text)).toBe(expected);
  });
  it('is checked up to the first error only', () => {
    const reader = new JournalReader();
    expect([json(openLine()), edge(5), edge(4), edge(3)].map((line) => reader.push(line))).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(reader.finish()).toMatchObject({ ok: false, error: { line: 3 } });
  });
});

describe('a greater version', () => {
  it('is refused, and said to be a newer release’s', () => {
    expect(readJournal('{"kind":"open","version":3,"shape":"new"}\n{"kind":"what"}\n')).toEqual({
      ok: false,
      error: {
        line: 1,
        field: 'version',
        problem: 'is 3: this journal was made by a newer release and is left untouched',
        newerVersion: true,
      },
    });
  });
});

describe('a torn last line', () => {
  const whole = fileOf([begin, edge(1)]);

  it('is passed over and counted', () => {
    expect(skippedOf(`${whole}{"kind":"edge","at":2,"sw`)).toEqual({ lines: 0, fields: 0, tornBytes: 25 });
  });
  it('is passed over however short it was torn', () => {
    const last = edge(2, 'chest', false);
    for (let length = 1; length < last.length; length += 1)
      expect(skippedOf(whole + last.slice(0, length))).toEqual({ lines: 0, fields: 0, tornBytes: length });
    expect(skippedOf(whole + last)).toEqual({ lines: 0, fields: 0, tornBytes: 0 });
  });
  it('with trailing NULs is passed over, and NULs alone are nothing', () => {
    expect(skippedOf(`${whole}{"kind"\0\0\0`)).toMatchObject({ tornBytes: 7 });
    expect(skippedOf(`${whole}\0\0\0\0`)).toMatchObject({ tornBytes: 0 });
  });
  it('that is not the last is an error with its line', () => {
    expect(errorOf(`${whole}{"kind":"edge","at":2,"sw\n${edge(3)}\n`)).toBe('4: null the line is not JSON');
    expect(errorOf(`${whole}\n${edge(3)}\n`)).toBe('4: null the line is empty');
  });
  it('that is JSON but no line is an error', () => {
    expect(errorOf(`${whole}17`)).toBe('4: null the line is not a JSON object');
  });
  it('of a file that has no other is an error', () => {
    expect(errorOf('{"kind":"open","vers')).toBe('1: null the line is not JSON');
    expect(errorOf('MZ\u0090\u0000')).toBe('1: null the line is not JSON');
  });
});

describe('what this version does not know', () => {
  it('is counted, said in a warning, and changes no figure', () => {
    const known = [begin, edge(1000), edge(1200, 'chest', false), close(2000)];
    const later = [
      json({ kind: 'call', at: 0, call: 'begin', mood: 'calm' }),
      json({ kind: 'video', at: 500 }),
      edge(1000),
      json({ kind: 'weather' }),
      json({ kind: 'edge', at: 1200, switch: 'chest', down: false, force: 3, angle: 1 }),
      close(2000),
    ];
    const score = (lines: readonly string[]) => {
      const read = readJournal(fileOf(lines));
      if (!read.ok) throw new Error(read.error.problem);
      return { skipped: read.journal.skipped, report: scoreJournal(read.journal).report };
    };
    const { skipped, report } = score(later);
    expect(skipped).toEqual({ lines: 2, fields: 3, tornBytes: 0 });
    expect(report.warnings).toEqual([
      '2 lines of a kind this version does not know were skipped',
      '3 fields this version does not know were skipped',
    ]);
    expect({ ...report, warnings: [] }).toEqual({ ...score(known).report, warnings: [] });
  });
});

describe('what is no line', () => {
  it.each([
    ['', 'null the line is empty'],
    ['   ', 'null the line is empty'],
    ['{"kind":"ed', 'null the line is not JSON'],
    ['kind', 'null the line is not JSON'],
    ['[]', 'null the line is not a JSON object'],
    ['null', 'null the line is not a JSON object'],
    ['17', 'null the line is not a JSON object'],
    ['{}', 'kind is missing'],
    ['{"kind":1}', 'kind is missing'],
  ])('%j', (text, problem) => {
    const parsed = parseLine(text);
    expect(parsed.ok ? 'taken' : `${parsed.field} ${parsed.problem}`).toBe(problem);
  });
});
