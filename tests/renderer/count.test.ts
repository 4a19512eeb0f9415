import { expect, test } from 'vitest';
import { beatAt } from '../../renderer/screens/count.tsx';

test('before the first “one” there is no count', () => {
  expect(beatAt(2999.999, 3000, 2000)).toBe(null);
});

test('each word has its quarter of the cycle, from its first moment to the next word’s', () => {
  const beats = [3000, 3499.999, 3500, 3999.999, 4000, 4500, 4999.999, 5000].map((now) =>
    beatAt(now, 3000, 2000),
  );
  expect(beats).toEqual([0, 0, 1, 1, 2, 3, 3, 0]);
});

test('a late look skips words and is not behind afterwards', () => {
  expect(beatAt(3000 + 60 * 2000 + 1600, 3000, 2000)).toBe(3);
});
