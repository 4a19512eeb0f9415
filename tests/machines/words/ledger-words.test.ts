import { expect, test } from 'vitest';
import type { PersonPage, PersonPoint, PersonSeries } from '../../../machines/ledger/person-page.ts';
import { personPageText } from '../../../machines/words/ledger-words.ts';

const POINT: PersonPoint = {
  drillId: '00000001-0000-4000-8000-000000000000',
  openedAt: '2026-03-02T09:30:00.000Z',
  partner: 'Ben',
  techniques: ['two-thumb'],
  cycles: 29,
  coordinated: 20,
  coordinatedShare: { value: 20 / 29, plusMinus: 0.16 },
  cycleJitterMs: { value: 61.4, plusMinus: null },
  breathLagRatio: { value: null, plusMinus: null },
};
const NONE: PersonSeries = { trend: [], cold: [], coldChange: null };
const PAGE: PersonPage = {
  name: 'Ada',
  drills: 4,
  notInTrend: { led: 1, slowed: 1, noCycle: 0 },
  rigs: {
    manikin: {
      compressor: {
        trend: [],
        cold: [POINT],
        coldChange: {
          partner: 'Ben',
          fromDrillId: 'a',
          toDrillId: 'b',
          coordinatedShare: { value: -0.12, plusMinus: 0.2 },
          cycleJitterMs: { value: 4, plusMinus: 9 },
          breathLagRatio: { value: 0.05, plusMinus: 0.08 },
        },
      },
      ventilator: NONE,
    },
    rhythm: { compressor: NONE, ventilator: { ...NONE, trend: [{ ...POINT, techniques: ['two-finger'] }] } },
  },
  lastPractisedAt: { manikin: '2026-03-02T09:30:00.000Z', rhythm: null },
  dueOn: '2026-05-31',
};

test('a person’s page says what each figure stands for, with the rhythm rig and cold minutes apart', () => {
  expect(personPageText(PAGE)).toBe(`Ada
4 drills; in no trend: 1 led, 1 slowed, 0 without a cycle
Last practised on a manikin: 2026-03-02; on a rhythm rig: never
Due: 2026-05-31
A figure belongs to the pair: it stands with the partner’s name, and no pair is put before another.

As compressor, manikin rig
Without a count, at the usual tempo.
  None.
Cold minutes, apart: cold compared with cold shows what was forgotten.
  2026-03-02 09:30 UTC, with Ben: 20 of 29 cycles (69 ± 16 %), cycle jitter 61 ms, breath lag ratio not measured
  The last two cold minutes with Ben differ by (later less earlier): coordinated cycles −12 ± 20 points, cycle jitter 4 ± 9 ms, breath lag ratio 0.05 ± 0.08

Rhythm rig: keys or pedals on the table. Good for learning the count and the change of roles; it says nothing about compressions or breaths on a chest.

As ventilator, rhythm rig
Without a count, at the usual tempo.
  2026-03-02 09:30 UTC, with Ben: 20 of 29 cycles (69 ± 16 %), cycle jitter 61 ms, breath lag ratio not measured

Two-thumb is the method of choice; timing alone cannot compare the techniques.
`);
});
