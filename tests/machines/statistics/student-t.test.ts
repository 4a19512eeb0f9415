import { expect, it, test } from 'vitest';
import { studentT, studentT95 } from '../../../machines/statistics/student-t.ts';

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

test.each([
  // The same table of the handbook, tails of 0.05, 0.01 and 0.005 (read in a text that restates it whole).
  [1, 6.314, 31.821, 63.657],
  [2, 2.92, 6.965, 9.925],
  [3, 2.353, 4.541, 5.841],
  [4, 2.132, 3.747, 4.604],
  [5, 2.015, 3.365, 4.032],
  [9, 1.833, 2.821, 3.25],
  [30, 1.697, 2.457, 2.75],
  [100, 1.66, 2.364, 2.626],
])(
  'with %i degrees of freedom 90, 98 and 99 %% lie within the handbook’s %d, %d and %d',
  (degrees, ...wanted) => {
    const found = [0.9, 0.98, 0.99].map((inside) => studentT(degrees, inside));
    for (const [index, t] of wanted.entries())
      expect(Math.abs((found[index] ?? 0) - t)).toBeLessThan(0.00051);
  },
);

test.each([
  // scipy 1.17, stats.t.ppf(0.5 + inside ÷ 2, ν): five parts in a hundred shared by three figures, and far from it.
  [2, 1 - 0.05 / 3, 7.648803937915553],
  [3, 1 - 0.05 / 3, 4.856657272768983],
  [4, 1 - 0.05 / 3, 3.9607864827701835],
  [9, 1 - 0.05 / 3, 2.93332408837399],
  [3, 0.999, 12.923978636687961],
  // Shared by four comparisons, and by as many as a drill can have.
  [3, 1 - 0.05 / 12, 7.93975073446641],
  [3, 1 - 0.05 / 648, 30.53518034538584],
  [9, 1 - 0.05 / 648, 6.8215362633029635],
  [1000, 0.9999, 3.9063437367014084],
  [17, 0.5, 0.6891950751539387],
  [1000, 1 - 0.05 / 3, 2.3980148175813722],
])('with %d degrees of freedom %d lies within scipy’s %d', (degrees, inside, t) => {
  expect(studentT(degrees, inside) / t).toBeCloseTo(1, 6);
});

it('needs a share that was checked', () => {
  for (const inside of [0, -1, 1, 0.99999, Number.NaN]) expect(() => studentT(3, inside)).toThrow(RangeError);
});

it('needs a degree of freedom', () => {
  for (const degrees of [0.99, 0, -1, Number.NaN]) expect(() => studentT95(degrees)).toThrow(RangeError);
});
