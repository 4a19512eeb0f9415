import { expect, test } from 'vitest';
import { replay } from '../../machines/replay.ts';
import { boutRowsOf, reportOf } from '../../machines/scoring/report.ts';
import { drawSheet } from '../../machines/sheet-drawing.ts';
import { drawRows, sheetPages } from '../../machines/sheet-pages.ts';
import { pathsOf, wordsOf } from '../../machines/sheet-paths.ts';
import { JournalBuilder } from '../support/journal-builder.ts';
import { sampleDrill } from '../support/sample-drills.ts';

function inputOf(journal: Pick<JournalBuilder, 'open' | 'lines'>) {
  const fold = replay(journal.open, journal.lines);
  return { report: reportOf(fold), rows: boutRowsOf(fold), tolerance: journal.open.tolerance };
}
const numbered = (name: Parameters<typeof sampleDrill>[0]) => {
  const { open, lines } = sampleDrill(name);
  return inputOf({ open, lines: lines.map((line, index) => ({ number: index + 2, line })) });
};
const texts = (drawing: ReturnType<typeof drawSheet>) => wordsOf(drawing).map(({ text }) => text);
const swapped = () =>
  new JournalBuilder()
    .call(0, 'begin')
    .ideal(1000, 6)
    .call(12_500, 'swap')
    .ideal(16_000, 6)
    .call(29_000, 'finish');

test('every row has its place, one below the other', () => {
  const { places, height } = drawSheet(inputOf(swapped()));
  expect(places.map(({ row }) => row)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
  for (const [index, place] of places.entries()) {
    const before = places[index - 1];
    expect(place.y).toBeGreaterThanOrEqual(before === undefined ? 0 : before.y + before.height);
  }
  expect((places.at(-1)?.y ?? 0) + (places.at(-1)?.height ?? 0)).toBeLessThanOrEqual(height);
});

test('a swap stands once, above the bout it led to, wherever the pages are cut', () => {
  const input = inputOf(swapped());
  for (const cut of [1, 4, 5, 6, 9]) {
    const [first, second] = [drawRows(input, 0, cut), drawRows(input, cut, 10)];
    const calls = [...texts(first), ...texts(second)].filter((text) => text.startsWith('swap called'));
    expect(calls).toHaveLength(1);
    expect(first.places).toHaveLength(cut);
    expect(second.places).toHaveLength(10 - cut);
  }
});

test('half an hour is cut into pages that hold all rows, each no higher than asked', () => {
  const input = numbered('long');
  const pages = sheetPages(input, 1320);
  expect(pages.flatMap(({ places }) => places)).toHaveLength(input.rows.length);
  expect(Math.max(...pages.map(({ height }) => height))).toBeLessThanOrEqual(1320);
  expect(pages.length).toBeLessThanOrEqual(Math.ceil((drawSheet(input).height / 1320) * 1.25));
});

test('a drill without a row has no page of a sheet', () => {
  expect(sheetPages(inputOf(new JournalBuilder().call(0, 'begin').call(900, 'finish')), 1320)).toEqual([]);
});

test('marks are one path an ink: tints at the back, presses in front', () => {
  const paths = pathsOf(drawSheet(numbered('poor')));
  expect(paths.map(({ ink }) => ink)).toEqual(['tint', 'column', 'end', 'compression', 'breath']);
  expect(paths.every(({ d }) => /^[MhvaVz0-9. -]+$/.test(d))).toBe(true);
});

test('a bar is a filled oblong of its place, a pill lies inside its place by half its stroke', () => {
  const paths = pathsOf({
    width: 100,
    height: 20,
    places: [],
    shapes: [
      { kind: 'bar', ink: 'compression', x: 10, y: 3, width: 20, height: 9 },
      { kind: 'pill', ink: 'breath', x: 40, y: 2, width: 30, height: 10 },
    ],
  });
  expect(paths).toEqual([
    { ink: 'compression', d: 'M10 3h20v9h-20z' },
    { ink: 'breath', d: 'M45 3h20a4 4 0 0 1 0 8h-20a4 4 0 0 1 0 -8z' },
  ]);
});
