import { expect, test } from 'vitest';
import { isDate, secondsBetween } from '../../machines/wall-clock.ts';

test.each([
  ['2026-03-02T09:30:00.000Z', true],
  ['2024-02-29T23:59:59Z', true],
  ['2000-02-29T00:00:00Z', true],
  ['1900-02-29T00:00:00Z', false],
  ['2026-02-29T00:00:00Z', false],
  ['2026-04-31T00:00:00Z', false],
  ['2026-99-01T00:00:00Z', false],
  ['2026-00-10T00:00:00Z', false],
  ['2026-01-00T00:00:00Z', false],
  ['2026-01-01T24:00:00Z', false],
  ['2026-01-01T00:60:00Z', false],
  ['2026-01-01T00:00:60Z', false],
])('%s is a date: %s', (text, is) => {
  expect(isDate(text)).toBe(is);
});

test('seconds between two times agree with the language’s own calendar, over leap years and centuries', () => {
  const times = [
    '1999-12-31T23:59:59Z',
    '2000-02-28T12:00:00Z',
    '2000-03-01T00:00:00Z',
    '2096-02-29T01:02:03Z',
    '2101-01-01T00:00:00Z',
  ];
  for (const from of times) {
    for (const to of times) {
      expect(secondsBetween(from, to)).toBe((Date.parse(to) - Date.parse(from)) / 1000);
    }
  }
});
