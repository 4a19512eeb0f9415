import type { Tolerance } from './journal.ts';
import { isCoordinated, type RowPress } from './scoring/cycle-row.ts';
import { faultsOf } from './scoring/faults.ts';
import type { BoutRow, DrillReport } from './scoring/report.ts';
import type { Us } from './units.ts';
import {
  COUNT_WORDS,
  FAULT_WORDS,
  leftOutLabel,
  ofCycles,
  STANCE_WORDS,
  SWITCH_MISSED_IT,
  TECHNIQUE_WORDS,
} from './words/english.ts';
import { checkSentence, handoverSentence } from './words/handover-sentence.ts';

/**
 * The sheet: a row a cycle, time within the cycle across, one mark a press. Made of plain shapes, so that
 * the window, the printed page and the report file draw the same. `ink` says what a shape is; colours are the drawer's.
 * Lengths are in user units of the drawing.
 */
export type Ink =
  | 'column'
  | 'tint'
  | 'compression'
  | 'breath'
  | 'left-out-compression'
  | 'left-out-breath'
  | 'end'
  | 'strong'
  | 'plain'
  | 'quiet'
  | 'fault';
export type Shape =
  | { kind: 'bar'; ink: Ink; x: number; y: number; width: number; height: number }
  | { kind: 'pill'; ink: Ink; x: number; y: number; width: number; height: number }
  | { kind: 'line'; ink: Ink; x: number; y1: number; y2: number }
  | { kind: 'words'; ink: Ink; x: number; y: number; text: string };
/** Where a row of the input was drawn: its index there, its top and its height. */
export type RowPlace = { row: number; y: number; height: number };
export type Drawing = { width: number; height: number; shapes: Shape[]; places: RowPlace[] };

export const SHEET_WIDTH = 1080;
const LABELS_AT = 6;
const LEFT = 192;
const RIGHT = 826;
const WORDS_AT = 840;
const ROW_HEIGHT = 15;
/** How many cycles of T fit across: a row runs on a little past its end, so that a late start is seen. */
const CYCLES_ACROSS = 1.375;
const LEAST_PRESS_WIDTH = 3;
const BOUT_LABEL_ROWS = 5;

export type SheetInput = { report: DrillReport; rows: readonly BoutRow[]; tolerance: Tolerance };

/** Draws rows of a drill, in order of time, with their bouts' labels, and handovers and checks between them. */
export function drawSheet({ report, rows, tolerance }: SheetInput): Drawing {
  const shapes: Shape[] = [];
  const places: RowPlace[] = [];
  let y = 8;
  report.bouts.forEach((bout, index) => {
    const sentence = sentenceBefore(report, index);
    if (sentence !== null) {
      y = 12 + writeLines(shapes, sentence, y + 12);
    }
    COUNT_WORDS.forEach((word, beat) => {
      shapes.push({ kind: 'words', ink: 'quiet', x: xOf(beat / 4), y: y + 10, text: word });
    });
    shapes.push({ kind: 'words', ink: 'quiet', x: xOf(1), y: y + 10, text: 'next one' });
    y += 16;
    const top = y;
    const label = (line: number, ink: Ink, text: string): void => {
      shapes.push({ kind: 'words', ink, x: LABELS_AT, y: top + 12 + line * 17, text });
    };
    label(0, 'strong', `${shortName(report.drill.people[bout.roles.compressor].name)} compresses`);
    label(1, 'plain', `${shortName(report.drill.people[bout.roles.ventilator].name)} ventilates`);
    label(2, 'quiet', `${TECHNIQUE_WORDS[bout.technique]}, ${STANCE_WORDS[bout.stance]}`);
    label(3, 'strong', ofCycles(bout.cycles.coordinated, bout.cycles.total));
    const hasLeftOut = bout.leftOut > 0;
    if (hasLeftOut) label(4, 'quiet', leftOutLabel(bout.leftOut));
    const columnsAt = shapes.length;
    for (let row = rows[places.length]; row?.bout === index; row = rows[places.length]) {
      const bottom = drawRow(shapes, row, tolerance, y);
      places.push({ row: places.length, y, height: bottom - y });
      y = bottom;
    }
    y = Math.max(y, top + (BOUT_LABEL_ROWS + (hasLeftOut ? 1 : 0)) * ROW_HEIGHT);
    shapes.splice(columnsAt, 0, ...columns(top, y));
    y += 14;
  });
  const last = sentencesBetween(report, report.bouts.at(-1)?.startMs ?? 0, Number.POSITIVE_INFINITY);
  if (last !== null) {
    y = 12 + writeLines(shapes, last, y + 8);
  }
  return { width: SHEET_WIDTH, height: y + 4, shapes, places };
}

/** Writes a sentence from a first line's foot at `y` on, in as many lines as it takes; the foot of the last. */
function writeLines(shapes: Shape[], sentence: string, y: number): number {
  const lines = linesOfWords(sentence);
  for (const [index, text] of lines.entries())
    shapes.push({ kind: 'words', ink: 'plain', x: LEFT, y: y + index * ROW_HEIGHT, text });
  return y + (lines.length - 1) * ROW_HEIGHT + 2;
}

/** So many letters of 12 units fit between the rows' left and the sheet's right edge. */
const LINE_LETTERS = 130;

function linesOfWords(sentence: string): string[] {
  const lines: string[] = [];
  for (const word of sentence.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= LINE_LETTERS)
      lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** What lies between a bout and the one before it: a handover, a check or a rest. Null before the first. */
function sentenceBefore(report: DrillReport, bout: number): string | null {
  const sentences = sentencesBetween(
    report,
    report.bouts[bout - 1]?.startMs ?? 0,
    report.bouts[bout]?.startMs ?? 0,
  );
  return sentences ?? (bout === 0 ? null : 'rest');
}

/** Handovers and checks called in a stretch of time, in one line. */
function sentencesBetween(report: DrillReport, fromMs: number, toMs: number): string | null {
  const isInside = ({ calledMs }: { calledMs: number }): boolean => calledMs >= fromMs && calledMs < toMs;
  const sentences = [
    ...report.handovers.filter(isInside).map(handoverSentence),
    ...report.checks.filter(isInside).map(checkSentence),
  ];
  return sentences.length === 0 ? null : sentences.join('; ');
}

/** One cycle; a cycle of several T goes on in lines below, each with the columns of the ideal cycle. */
function drawRow(shapes: Shape[], row: BoutRow, tolerance: Tolerance, top: number): number {
  const faults = row.isLeftOut ? [] : faultsOf(row, tolerance);
  const lines = linesOf(row);
  const height = lines * ROW_HEIGHT;
  if (row.isLeftOut) {
    shapes.push({ kind: 'words', ink: 'quiet', x: WORDS_AT, y: top + 11, text: SWITCH_MISSED_IT });
  } else if (!isCoordinated(row, tolerance)) {
    shapes.push({ kind: 'bar', ink: 'tint', x: LEFT - 6, y: top, width: RIGHT - LEFT + 6, height });
  }
  if (faults.length > 0) {
    shapes.push({
      kind: 'words',
      ink: 'fault',
      x: WORDS_AT,
      y: top + 11,
      text: faultText(
        row,
        faults.map((fault) => FAULT_WORDS[fault]),
      ),
    });
  }
  for (const press of row.compressions) drawPress(shapes, 'compression', press, row, top, lines);
  for (const press of row.breaths) drawPress(shapes, 'breath', press, row, top, lines);
  const end = placeOf(row.lengthUs, row, lines);
  shapes.push({
    kind: 'line',
    ink: 'end',
    x: end.x,
    y1: top + end.line * ROW_HEIGHT + 1,
    y2: top + end.line * ROW_HEIGHT + 14,
  });
  return top + height;
}

/** As many faults in words as have room beside the row, the plainest first; "…" where there are more. */
function faultText(row: BoutRow, words: readonly string[]): string {
  const t = row.lengthUs / row.idealUs;
  const length = t > MOST_LINES ? ` (${(row.lengthUs / 1_000_000).toFixed(1)} s)` : '';
  const all = words.join(', ');
  if (all.length + length.length <= MOST_LETTERS) return `${all}${length}`;
  const fitting = words.slice(0, -1).findLastIndex((_, last) => {
    return words.slice(0, last + 1).join(', ').length + length.length + 3 <= MOST_LETTERS;
  });
  return `${words.slice(0, Math.max(1, fitting + 1)).join(', ')}, …${length}`;
}

/** So many letters of 12 units have room beside a row. */
const MOST_LETTERS = 36;

/** A row of more than so many T is drawn cut, with its length in words. */
const MOST_LINES = 6;

function linesOf(row: BoutRow): number {
  const lines = Math.ceil(row.lengthUs / row.idealUs - (CYCLES_ACROSS - 1 - 0.05));
  return Math.min(MOST_LINES, Math.max(1, lines));
}

function drawPress(
  shapes: Shape[],
  ink: 'compression' | 'breath',
  press: RowPress,
  row: BoutRow,
  top: number,
  lines: number,
): void {
  const place = placeOf(press.onUs, row, lines);
  if (place.x > RIGHT) return;
  const width = Math.min(
    RIGHT - place.x,
    Math.max(LEAST_PRESS_WIDTH, xOf((press.offUs - press.onUs) / row.idealUs) - LEFT),
  );
  const y = top + place.line * ROW_HEIGHT + 3;
  const shown = row.isLeftOut ? (`left-out-${ink}` as const) : ink;
  if (ink === 'compression') shapes.push({ kind: 'bar', ink: shown, x: place.x, y, width, height: 9 });
  else shapes.push({ kind: 'pill', ink: shown, x: place.x, y: y - 0.5, width, height: 10 });
}

/** Which line of the row a time falls on, and where across; an eighth of T early still counts as the next line's start. */
function placeOf(atUs: Us, row: BoutRow, lines: number): { line: number; x: number } {
  const cycles = atUs / row.idealUs;
  const line = lines === 1 ? 0 : Math.max(0, Math.min(lines - 1, Math.floor(cycles + 0.125)));
  return { line, x: xOf(cycles - line) };
}

function columns(top: number, bottom: number): Shape[] {
  const beats: Shape[] = COUNT_WORDS.map((_, beat) => ({
    kind: 'bar',
    ink: 'column',
    x: xOf(beat / 4) - 4,
    y: top,
    width: 8,
    height: bottom - top,
  }));
  return [...beats, { kind: 'bar', ink: 'column', x: xOf(1) - 1, y: top, width: 2, height: bottom - top }];
}

function xOf(cycles: number): number {
  return Math.round((LEFT + (cycles * (RIGHT - LEFT)) / CYCLES_ACROSS) * 10) / 10;
}

/** The labels have room for so many letters of a name. */
const LONGEST_NAME = 12;

/** A name that fits beside the sheet. Counts code points: a letter of several may be cut, never a surrogate pair. */
function shortName(name: string): string {
  const letters = Array.from(name);
  if (letters.length <= LONGEST_NAME) return name;
  return `${letters
    .slice(0, LONGEST_NAME - 1)
    .join('')
    .trimEnd()}…`;
}
