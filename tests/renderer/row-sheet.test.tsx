// @vitest-environment happy-dom
import { expect, test } from 'vitest';
import { rowAt, rowByKey } from '../../renderer/sheet/row-at.ts';
import { showDebrief } from '../support/debrief-screen.tsx';
import { JournalBuilder } from '../support/journal-builder.ts';
import type { Screen } from '../support/screen.tsx';

async function shown(): Promise<Screen> {
  const journal = new JournalBuilder()
    .call(0, 'begin')
    .ideal(1000, 2)
    .cycle([5000, 5500, 6000], 6100)
    .ideal(7000, 3);
  journal.call(14_000, 'finish').line({ kind: 'close', at: 14_000 });
  const { screen } = await showDebrief(journal);
  await screen.click(screen.button(/^Show the figures/));
  return screen;
}

const rows = (screen: Screen) => screen.element.querySelector<HTMLElement>('[role=listbox]');
const note = (screen: Screen) => screen.element.querySelector('.row-note')?.textContent;

test('arrow keys choose a row; its words and figures stand below the sheet', async () => {
  const screen = await shown();
  const list = rows(screen);
  if (list === null) throw new Error('the sheet has no rows to choose from');
  expect(note(screen)).toBe('Up and down arrows choose a row, or point at one: its figures stand here.');
  for (let press = 0; press < 3; press += 1) await screen.press('ArrowDown', list);
  expect(note(screen)).toContain('Cycle 3, at 5.0 s: breath too soon, breath early');
  expect(note(screen)).toContain('third compression to breath 100 ms (ideal 500 ms)');
  expect(note(screen)).toContain('compression and breath share 100 ms (ideal 0 ms)');
  expect(list.getAttribute('aria-activedescendant')).toBe('row-chosen');
  const option = screen.element.querySelector('#row-chosen');
  expect([option?.getAttribute('aria-posinset'), option?.getAttribute('aria-setsize')]).toEqual(['3', '5']);
  await screen.press('End', list);
  expect(note(screen)).toContain('Cycle 5, at 9.0 s: three compressions and a breath, in place');
});

test('an arrow goes no further than the first and the last row; other keys are left alone', () => {
  expect(rowByKey('ArrowUp', 0, 5)).toBe(0);
  expect(rowByKey('ArrowDown', 4, 5)).toBe(4);
  expect(rowByKey('PageDown', 1, 20)).toBe(11);
  expect(rowByKey('ArrowDown', null, 5)).toBe(0);
  expect(rowByKey('ArrowDown', null, 0)).toBe(null);
  expect(rowByKey('Tab', 2, 5)).toBe(null);
});

test('a row is found by its height, and none between two', () => {
  const places = [
    { row: 0, y: 10, height: 15 },
    { row: 1, y: 25, height: 30 },
    { row: 2, y: 80, height: 15 },
  ];
  expect([9, 10, 24.9, 25, 54, 55, 79, 80, 95].map((y) => rowAt(places, y))).toEqual([
    null,
    0,
    0,
    1,
    1,
    null,
    null,
    2,
    null,
  ]);
});

test('a row that the switch missed is left out of the figures, said so, and can count again', async () => {
  const screen = await shown();
  const list = rows(screen);
  if (list === null) throw new Error('the sheet has no rows to choose from');
  const headline = () => screen.element.querySelector('.headline')?.textContent;
  expect(headline()).toContain('4 of your 5 cycles');
  for (let press = 0; press < 3; press += 1) await screen.press('ArrowDown', list);
  await screen.press('KeyM', list);
  await screen.settle();
  expect(headline()).toContain('4 of your 4 cycles');
  expect(headline()).toContain('1 cycle left out: the switch missed it');
  expect(note(screen)).toContain('Cycle 3, at 5.0 s: the switch missed it');
  await screen.click(screen.button(/^It counts after all/));
  await screen.settle();
  expect(headline()).toContain('4 of your 5 cycles');
});
