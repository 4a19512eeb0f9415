import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GUIDANCES } from '../../../machines/journal.ts';
import type { CycleRow } from '../../../machines/scoring/cycle-row.ts';
import { RowStore } from '../../../machines/scoring/row-store.ts';
import { exactRow, row } from '../../support/rows.ts';

/** Whole microseconds, also around 2³⁰ (18 minutes) where a number takes more room, up to a day. */
const anyUs = fc.oneof(
  fc.constantFrom(0, 1, 2 ** 29, 2 ** 30 - 1, 2 ** 30, 2 ** 30 + 1, 2 ** 31, 2 ** 32, 86_400_000_000),
  fc.integer({ min: 0, max: 86_400_000_000 }),
);
const anyPress = fc
  .tuple(anyUs, anyUs, fc.boolean())
  .map(([onUs, lengthUs, isMeasured]) => ({ onUs, offUs: onUs + lengthUs, isMeasured }));
const anyCount = fc.nat(1000);
const anyRow: fc.Arbitrary<CycleRow> = fc.record({
  startUs: anyUs,
  lengthUs: anyUs,
  idealUs: fc.integer({ min: 500_000, max: 20_000_000 }),
  guidance: fc.constantFrom(...GUIDANCES),
  guidanceChanged: fc.boolean(),
  compressions: fc.array(anyPress, { maxLength: 6 }),
  breaths: fc.array(anyPress, { maxLength: 3 }),
  clash: fc.record({
    count: anyCount,
    byBreath: anyCount,
    byCompression: anyCount,
    letGoLate: anyCount,
    overlapUs: anyUs,
  }),
});

describe('the row store', () => {
  it('gives back the rows that went in, in order', () => {
    fc.assert(
      fc.property(fc.array(anyRow, { maxLength: 40 }), (rows) => {
        const store = new RowStore();
        for (const one of rows) store.append(one);
        expect(store.size).toBe(rows.length);
        expect(store.slice(0, store.size)).toEqual(rows);
      }),
      { numRuns: 200 },
    );
  });
  it('keeps a row longer than a chunk, and the rows around it', () => {
    // 20 000 compressions in one cycle: somebody pressed for hours without a breath.
    const presses = Array.from({ length: 20_000 }, (_, index) => [index * 500, 200] as const);
    const long = row(10_000_000, presses, [[9_999_000, 400]]);
    const store = new RowStore();
    for (const one of [exactRow(2000), long, exactRow(2100)]) store.append(one);
    expect(store.slice(0, 3)).toEqual([exactRow(2000), long, exactRow(2100)]);
  });
  it('has no row outside', () => {
    const store = new RowStore();
    store.append(exactRow(2000));
    expect(() => store.get(1)).toThrow(new RangeError('no row 1 of 1'));
    expect(() => store.get(-1)).toThrow(RangeError);
  });
});
