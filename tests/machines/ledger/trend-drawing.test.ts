import { expect, test } from 'vitest';
import type { KeptFigure } from '../../../machines/ledger/ledger-entry.ts';
import type { PersonPoint } from '../../../machines/ledger/person-page.ts';
import { drawTrend, MOST_DRAWN, trendRange } from '../../../machines/ledger/trend-drawing.ts';

const kept = (value: number | null, plusMinus: number | null = null): KeptFigure => ({ value, plusMinus });
const day = (openedAt: string) => openedAt.slice(0, 10);

function point(drillId: string, openedAt: string, over: Partial<PersonPoint> = {}): PersonPoint {
  return {
    drillId,
    openedAt,
    partner: 'Ben',
    techniques: ['two-thumb'],
    cycles: 29,
    coordinated: 20,
    coordinatedShare: kept(0.5, 0.25),
    cycleJitterMs: kept(40, 10),
    breathLagRatio: kept(1, 0.1),
    ...over,
  };
}

test('a step is a drill, with its ± in the drawing’s bounds, a line where a day begins and an open mark for two-finger', () => {
  const points = [
    point('a', '2026-03-02T09:00:00.000Z'),
    point('b', '2026-03-02T10:00:00.000Z', { coordinatedShare: kept(1, 0.2), techniques: ['two-finger'] }),
    point('c', '2026-04-02T10:00:00.000Z', { coordinatedShare: kept(null) }),
  ];
  expect(drawTrend(points, 'coordinatedShare', trendRange('coordinatedShare', points), day)).toEqual({
    width: 340,
    height: 130,
    left: 44,
    marks: [
      { drillId: 'a', x: 92, y: 65, lowY: 92.5, highY: 37.5, isFilled: true, isBeyond: false },
      { drillId: 'b', x: 188, y: 10, lowY: 32, highY: 10, isFilled: false, isBeyond: false },
    ],
    dayXs: [236],
    ticks: [
      { value: 0, y: 120 },
      { value: 0.5, y: 65 },
      { value: 1, y: 10 },
    ],
    idealY: null,
  });
});

test('one stall does not press all other drills flat: its mark is beyond the drawing, and has no ±', () => {
  const points = [40, 50, 45, 700].map((jitter, index) =>
    point(String(index), `2026-03-0${index + 1}T09:00:00.000Z`, { cycleJitterMs: kept(jitter, 10) }),
  );
  const range = trendRange('cycleJitterMs', points);
  const { marks } = drawTrend(points, 'cycleJitterMs', range, day);
  expect(range).toEqual({ low: 0, high: 200 });
  expect(marks.map(({ y, lowY, highY, isBeyond }) => ({ y, lowY, highY, isBeyond }))).toEqual([
    { y: 98, lowY: 103.5, highY: 92.5, isBeyond: false },
    { y: 92.5, lowY: 98, highY: 87, isBeyond: false },
    { y: 95.3, lowY: 100.8, highY: 89.8, isBeyond: false },
    { y: 10, lowY: null, highY: null, isBeyond: true },
  ]);
});

test('the ideal of a breath lag ratio lies in the middle, and so many of the latest drills are drawn', () => {
  const points = Array.from({ length: MOST_DRAWN + 2 }, (_, index) =>
    point(String(index), '2026-03-01T09:00:00.000Z', { breathLagRatio: kept(index === 9 ? 0.6 : 1.05) }),
  );
  const range = trendRange('breathLagRatio', points);
  const drawing = drawTrend(points, 'breathLagRatio', range, day);
  expect({
    range,
    idealY: drawing.idealY,
    count: drawing.marks.length,
    first: drawing.marks[0]?.drillId,
  }).toEqual({ range: { low: 0.5, high: 1.5 }, idealY: 65, count: 40, first: '2' });
});

test('no drill at all, or a jitter of nothing, has a range that can be drawn', () => {
  const still = [point('a', '2026-03-01T09:00:00.000Z', { cycleJitterMs: kept(0, null) })];
  expect([trendRange('cycleJitterMs', []), trendRange('cycleJitterMs', still)]).toEqual([
    { low: 0, high: 1 },
    { low: 0, high: 1 },
  ]);
  expect(drawTrend([], 'breathLagRatio', trendRange('breathLagRatio', []), day).marks).toEqual([]);
});
