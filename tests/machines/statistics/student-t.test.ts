import { expect, it, test } from 'vitest';
import { studentT95 } from '../../../machines/statistics/student-t.ts';

test.each([
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values for a tail of 0.025 (read in a text that restates it).
  [1, 12.706],
  [2, 4.303],
  [3, 3.182],
  [4, 2.776],
  [5, 2.571],
  [6, 2.447],
  [7, 2.365],
  [8, 2.306],
  [9, 2.262],
  [10, 2.228],
  [15, 2.131],
  [20, 2.086],
  [30, 2.042],
  [60, 2.0],
  [100, 1.984],
])('with %i degrees of freedom is the handbook’s %d', (degrees, t) => {
  expect(studentT95(degrees)).toBeCloseTo(t, 3);
});

test.each([
  // scipy 1.x, stats.t.ppf(0.975, ν): also between whole numbers, and far out.
  [2, 4.302652729749462],
  [3.6, 2.902445235720363],
  [5.8, 2.467511154021072],
  [1000, 1.9623390808264083],
  [24_999, 1.9600588837015738],
])('with %d degrees of freedom is scipy’s %d', (degrees, t) => {
  expect(studentT95(degrees) / t).toBeCloseTo(1, 8);
});

it('needs a degree of freedom', () => {
  for (const degrees of [0.99, 0, -1, Number.NaN]) expect(() => studentT95(degrees)).toThrow(RangeError);
});
