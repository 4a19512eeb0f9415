import { expect, test } from 'vitest';
import type { Standing } from '../support/day-of-drills.ts';
import { growthsOf } from './day-of-drills.ts';

/** A day that grows until the tenth drill, as an engine does, and is then as told. */
const dayOf = (of: (drill: number) => Partial<Standing>): Standing[] =>
  Array.from({ length: 60 }, (_, drill) => ({
    pageHeap: 8_000_000 + 100_000 * Math.min(drill, 9) + 5000 * (drill % 7),
    domNodes: 670 + (drill % 3),
    listeners: 233,
    hostHeap: 9_000_000 + 1300 * drill,
    hostHandles: 8,
    ...of(drill),
  }));
const named = (day: Standing[]) => growthsOf(day).flatMap(({ name, isGrowth }) => (isGrowth ? [name] : []));

test('a day that comes and goes, or grows by what a drill is meant to leave, is no growth', () => {
  expect(named(dayOf(() => ({})))).toEqual([]);
});

test('what each drill leaves behind is named, a thing or twenty kilobytes', () => {
  expect(named(dayOf((drill) => ({ listeners: 233 + drill })))).toEqual(['listeners']);
  expect(named(dayOf((drill) => ({ hostHeap: 9_000_000 + 20_000 * drill + 30_000 * (drill % 5) })))).toEqual([
    'hostHeap',
  ]);
});
