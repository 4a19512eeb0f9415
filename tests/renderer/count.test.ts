import { expect, test } from 'vitest';
import { beatAt } from '../../renderer/screens/count.tsx';

const order = { fromMs: 3000, cycleMs: 2000, endMs: null };

test('before the first “one” the count is to come, and from its end on it is over', () => {
  expect(beatAt(2999.999, order)).toBe('to come');
  const ended = { ...order, endMs: 6750 };
  expect([beatAt(6749.999, ended), beatAt(6750, ended)]).toEqual([7, 'over']);
});

test('each word has its quarter of the cycle, from its first moment to the next word’s', () => {
  const beats = [3000, 3499.999, 3500, 3999.999, 4000, 4500, 4999.999, 5000].map((now) => beatAt(now, order));
  expect(beats).toEqual([0, 0, 1, 1, 2, 3, 3, 4]);
});

test('a late look skips words and is not behind afterwards', () => {
  expect(beatAt(3000 + 60 * 2000 + 1600, order)).toBe(243);
});
