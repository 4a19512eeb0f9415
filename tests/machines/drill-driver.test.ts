import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DrillDriver } from '../../machines/drill-driver.ts';
import { DrillFold } from '../../machines/drill-fold.ts';
import {
  type BodyLine,
  type CallLine,
  checkLine,
  formatLine,
  GUIDANCES,
  STANCES,
  TECHNIQUES,
} from '../../machines/journal.ts';
import { type NumberedLine, readJournal } from '../../machines/journal-reader.ts';
import { scoreJournal } from '../../machines/replay.ts';
import { JournalBuilder, openLine } from '../support/journal-builder.ts';

const callDetails = fc.oneof(
  fc
    .constantFrom('begin', 'swap', 'taken', 'check', 'checked', 'rest', 'resume', 'undo', 'finish')
    .map((call) => ({ call })),
  fc.constantFrom(...TECHNIQUES).map((technique) => ({ call: 'technique', technique })),
  fc.constantFrom(...STANCES).map((stance) => ({ call: 'stance', stance })),
  fc.constantFrom(...GUIDANCES).map((guidance) => ({ call: 'guidance', guidance })),
  fc.constantFrom('mask', 'secured').map((airway) => ({ call: 'airway', airway })),
  fc.constantFrom(2000, 3000).map((cycleMs) => ({ call: 'tempo', cycleMs })),
  fc.constantFrom(50, 60).map((bpm) => ({ call: 'heart-rate', bpm })),
  fc.constant({ call: 'begin', stage: 'ventilation' }),
);
const edgeDetails = fc.record({ place: fc.constantFrom(0, 1), down: fc.boolean() });
/** Steps of a drill: a pause in ms, then an edge or a call. Edges are as common as they are in a drill. */
const steps = fc.array(
  fc.tuple(
    fc.constantFrom(1, 40, 200, 300, 500, 600, 1300.001, 4000, 11_000),
    fc.oneof({ weight: 6, arbitrary: edgeDetails }, { weight: 1, arbitrary: callDetails }),
  ),
  { minLength: 40, maxLength: 160 },
);

function linesOf(switches: readonly [string, string], drawn: [number, object][]): NumberedLine[] {
  let at = 0;
  const lines: NumberedLine[] = [];
  for (const [pause, details] of drawn) {
    at = Math.round((at + pause) * 1000) / 1000;
    const value =
      'place' in details
        ? {
            kind: 'edge',
            at,
            switch: switches[(details as { place: number }).place],
            down: (details as unknown as { down: boolean }).down,
          }
        : { kind: 'call', at, ...details };
    const parsed = checkLine(value);
    if (!parsed.ok) throw new Error(parsed.problem);
    lines.push({ number: lines.length + 2, line: parsed.line as BodyLine });
  }
  return [...lines, { number: lines.length + 2, line: { kind: 'close', at } }];
}

describe('a live drill', () => {
  it('ends with the report that a replay of its written journal gives, field by field', () => {
    for (const binding of ['place', 'person'] as const) {
      const open = openLine({ binding, bounceMs: 25 });
      fc.assert(
        fc.property(steps, (drawn) => {
          const lines = linesOf(
            binding === 'place' ? ['chest', 'airway'] : ['A', 'B'],
            drawn as [number, object][],
          );
          const driver = new DrillDriver(open);
          for (const line of lines) driver.take([line]);
          const text = [open, ...lines.map(({ line }) => line)]
            .map((line) => `${formatLine(line)}\n`)
            .join('');
          const read = readJournal(text);
          if (!read.ok) throw new Error(read.error.problem);
          const replayed = scoreJournal(read.journal);
          expect(driver.endAndReport()).toEqual(replayed.report);
          expect(driver.rows()).toEqual(replayed.rows);
        }),
        { numRuns: 300 },
      );
    }
  });

  it('may be called exactly what the fold then accepts', () => {
    let asked = 0;
    for (const binding of ['place', 'person'] as const) {
      const open = openLine({ binding });
      fc.assert(
        fc.property(steps, (drawn) => {
          const lines = linesOf(
            binding === 'place' ? ['chest', 'airway'] : ['A', 'B'],
            drawn as [number, object][],
          );
          const driver = new DrillDriver(open);
          const fold = new DrillFold(open);
          for (const line of lines) {
            const isCall = line.line.kind === 'call' && line.line.call !== 'undo';
            const couldCall = isCall && driver.canCall(line.line as CallLine);
            if (line.line.kind === 'call' && line.line.call === 'undo') continue;
            const warned = fold.warnings.length;
            fold.take(line);
            driver.take([line]);
            if (isCall) {
              asked += 1;
              expect([line.line, couldCall]).toEqual([line.line, fold.warnings.length === warned]);
            }
          }
        }),
        { numRuns: 300 },
      );
    }
    expect(asked).toBeGreaterThan(1000);
  });

  it('goes on after a mistaken finish is undone, as if it had not been called', () => {
    const builder = new JournalBuilder().call(0, 'begin').ideal(1000, 5);
    builder.call(11_100, 'finish').call(12_000, 'undo').ideal(13_000, 4).call(21_500, 'finish');
    const driver = new DrillDriver(builder.open);
    driver.take(builder.lines);
    expect(driver.snapshot.value.stage).toBe('finished');
    // Five cycles from 1 000 ms; the fifth is long, since the next starts at 13 000 instead of 11 000; three more; one open.
    expect(driver.rows().map((row) => row.lengthUs / 1000)).toEqual([
      2000, 2000, 2000, 2000, 4000, 2000, 2000, 2000,
    ]);
    expect(driver.report().bouts.length).toBe(1);
  });

  it('tells who compresses on after a swap, each with a switch of their own, that they have the breaths', () => {
    // A's last compression is at 12 000, the swap at 12 300; B compresses from 14 000, and A goes on twice.
    const builder = new JournalBuilder({ binding: 'person' }).call(0, 'begin').ideal(1000, 5, 2000, 'A', 'B');
    builder.cycle([11_000, 11_500, 12_000], null, 'A', 'B').call(12_300, 'swap');
    for (const on of [14_000, 14_500, 15_000]) builder.press('B', on, on + 100);
    for (const on of [14_100, 14_600]) builder.press('A', on, on + 100);
    builder.line({ kind: 'note', at: 18_000, text: 'later' });
    const driver = new DrillDriver(builder.open);
    const said = driver.take(builder.lines).filter(({ type }) => type === 'breaths handed over');
    expect(driver.report().handovers).toMatchObject([{ outcome: 'taken up', strays: 2 }]);
    expect(said).toEqual([{ type: 'breaths handed over', to: 'A', atMs: 14_600 }]);
  });

  it('says what is called, in order, and not again when an undo folds it anew', () => {
    const builder = new JournalBuilder()
      .call(0, 'begin')
      .ideal(1000, 2)
      .call(5100, 'rest')
      .call(6000, 'undo');
    const driver = new DrillDriver(builder.open);
    expect(driver.take(builder.lines)).toEqual([
      { type: 'call announced', call: 'begin', atMs: 0 },
      { type: 'call announced', call: 'rest', atMs: 5100 },
    ]);
    expect(driver.snapshot.value.stage).toBe('compressing');
  });
});
