import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DrillDriver } from '../../../machines/drill-driver.ts';
import type { OpenLine, WeaningRule } from '../../../machines/journal.ts';
import type { NumberedLine } from '../../../machines/journal-reader.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

const T = 2000;
type Change = { cycle: number; count: 'heard' | 'silent'; fromMs: number | null; endMs: number | null };

/** A weaned drill, its first "one" at 3 s: which of its cycles are in place, and which are not. */
function drill(cycles: readonly boolean[], over: Partial<OpenLine> = {}): JournalBuilder {
  const builder = new JournalBuilder({ guidance: 'weaned', ...over }).call(1000, 'begin');
  cycles.forEach((isInPlace, index) => {
    const startMs = 3000 + index * T;
    // A second compression 200 ms late is in no place, and leaves the cycle's length as it is.
    const onsets = [0, isInPlace ? 500 : 700, 1000];
    for (const onset of onsets) builder.press('chest', startMs + onset, startMs + onset + 150);
    builder.press('airway', startMs + 1500, startMs + 1500 + 150);
  });
  builder.press('chest', 3000 + cycles.length * T, 3000 + cycles.length * T + 150);
  return builder;
}

/** When the count changed, by the number of complete cycles then, line by line. */
function changesOf(open: OpenLine, lines: readonly NumberedLine[]): Change[] {
  const driver = new DrillDriver(open);
  const changes: Change[] = [];
  let before = 'silent';
  for (const line of lines) {
    driver.take([line]);
    const { value, context } = driver.snapshot;
    if (value.count === before) continue;
    before = value.count;
    changes.push({
      cycle: driver.cycleCount,
      count: value.count,
      fromMs: context.order?.fromMs ?? null,
      endMs: context.order?.endMs ?? null,
    });
  }
  return changes;
}

function changesIn(cycles: readonly boolean[], over: Partial<OpenLine> = {}): Change[] {
  const builder = drill(cycles, over);
  return changesOf(builder.open, builder.lines);
}

const good = (count: number) => Array<boolean>(count).fill(true);
const bad = (count: number) => Array<boolean>(count).fill(false);
const START: Change = { cycle: 0, count: 'heard', fromMs: 3000, endMs: null };

describe('a weaned count', () => {
  it('falls silent after 8 coordinated cycles, with the cycle that it is in', () => {
    // The eighth cycle ends at 19 s, with 16 s of count: the cycle from 19 s is still counted, the next is not.
    expect(changesIn(good(12))).toEqual([START, { cycle: 8, count: 'silent', fromMs: 3000, endMs: 20_750 }]);
  });

  it('stays while fewer than 8 of the last 10 are coordinated', () => {
    const mixed = Array.from({ length: 30 }, (_, index) => index % 3 !== 0);
    expect(changesIn(mixed)).toEqual([START]);
  });

  it('falls silent at the first cycle that makes it 8 of 10', () => {
    const changes = changesIn([...bad(3), ...good(12)]);
    expect(changes.map(({ cycle }) => cycle)).toEqual([0, 11]);
  });

  it('returns after 3 of 5 not coordinated, at the pair’s own next “one”, not before 15 s of silence', () => {
    const changes = changesIn([...good(9), ...bad(20)]);
    // Silent from 20.75 s; the cycle that ends at 37 s is the first after 15 s of it.
    expect(changes[2]).toEqual({ cycle: 17, count: 'heard', fromMs: 39_000, endMs: null });
  });

  it('stays silent while at most 2 of the last 5 are not coordinated', () => {
    const mixed = Array.from({ length: 30 }, (_, index) => index % 5 > 1);
    expect(changesIn([...good(8), ...mixed]).map(({ count }) => count)).toEqual(['heard', 'silent']);
  });

  it('joins the pair where the pair is, not where the count was', () => {
    const builder = drill(good(9));
    // A late pair: every cycle of theirs from here on starts 700 ms after the old count's "one".
    for (let index = 0; index < 14; index += 1) {
      const startMs = 3000 + 9 * T + 700 + index * T;
      for (const onset of [0, 700, 1000]) builder.press('chest', startMs + onset, startMs + onset + 150);
      builder.press('airway', startMs + 1500, startMs + 1500 + 150);
    }
    const changes = changesOf(builder.open, builder.lines);
    const fromMs = changes[2]?.fromMs ?? 0;
    expect((fromMs - 3000 - 700) % T).toBe(0);
  });

  it('returns to a compressor who goes on alone, though no cycle is complete', () => {
    const builder = drill(good(9));
    for (let index = 1; index < 80; index += 1)
      builder.press('chest', 21_000 + index * 500, 21_000 + index * 500 + 150);
    const [, fallen, back] = changesOf(builder.open, builder.lines);
    expect([fallen?.count, back?.count]).toEqual(['silent', 'heard']);
    // Silent until 20.75 s; 15 s of silence are over at 35.75 s.
    expect(back?.fromMs).toBeGreaterThan(35_750);
    expect(back?.fromMs).toBeLessThan(41_000);
  });

  it('returns to a pair that stands still, once it goes on', () => {
    const builder = drill(good(9));
    for (const at of [81_000, 85_000, 89_000, 93_000]) builder.press('chest', at, at + 150);
    expect(changesOf(builder.open, builder.lines).map(({ count }) => count)).toEqual([
      'heard',
      'silent',
      'heard',
    ]);
  });

  it('keeps other rules when it is told them', () => {
    const weaning: WeaningRule = {
      silentAfter: { cycles: 2, of: 2 },
      returnsAfter: { cycles: 1, of: 1 },
      leastMs: 0,
    };
    const cycles = changesIn([...good(2), ...bad(1), ...good(3)], { weaning }).map(({ cycle }) => cycle);
    expect(cycles).toEqual([0, 2, 3, 5]);
  });

  it('says nothing of silence while led or unled', () => {
    expect(changesIn(good(20), { guidance: 'led' })).toEqual([START]);
    expect(changesIn([...good(9), ...bad(20)], { guidance: 'unled' })).toEqual([]);
  });
});

describe('whatever the pair does', () => {
  const anyCycles = fc.array(fc.boolean(), { maxLength: 60 });

  it('each way lasts 15 s at least, and changes take turns', () => {
    fc.assert(
      fc.property(anyCycles, (cycles) => {
        const changes = changesIn(cycles);
        const times = changes.map(({ count, fromMs, endMs }) => (count === 'heard' ? fromMs : endMs) ?? 0);
        times.slice(1).forEach((time, index) => {
          expect(time - (times[index] ?? 0)).toBeGreaterThanOrEqual(15_000);
        });
        changes.forEach(({ count }, index) => {
          expect(count).toBe(index % 2 === 0 ? 'heard' : 'silent');
        });
      }),
    );
  });

  it('what was decided stays, whatever comes later: only lines up to now count', () => {
    fc.assert(
      fc.property(anyCycles, anyCycles, (cycles, later) => {
        const builder = drill([...cycles, ...later]);
        const lines = builder.lines;
        const untilMs = 3000 + cycles.length * T;
        const early = lines.filter(({ line }) => line.kind !== 'unknown' && line.at <= untilMs);
        const decided = changesOf(builder.open, early);
        expect(changesOf(builder.open, lines).slice(0, decided.length)).toEqual(decided);
      }),
    );
  });

  it('never begins or ends within a cycle of the count, nor out of step with the pair when it joins', () => {
    fc.assert(
      fc.property(anyCycles, (cycles) => {
        for (const { count, fromMs, endMs } of changesIn(cycles)) {
          // The pair's own "ones" are at 3 s and every 2 s from there.
          if (count === 'heard') expect(((fromMs ?? 0) - 3000) % T).toBe(0);
          else expect(((endMs ?? 0) + T / 8 - (fromMs ?? 0)) % T).toBe(0);
        }
      }),
    );
  });
});
