import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BINDINGS, GUIDANCES } from '../../../machines/journal.ts';
import { readJournal } from '../../../machines/journal-reader.ts';
import { lengthOf } from '../../../machines/plans/plan.ts';
import { READY_MADE, READY_MADE_NAMES } from '../../../machines/plans/ready-made.ts';
import { metronome } from '../../../machines/rehearsal/metronome.ts';
import { REHEARSAL_PLANS } from '../../../machines/rehearsal/plans.ts';
import { type RehearsalOptions, rehearse } from '../../../machines/rehearsal/rehearse.ts';
import { scoreJournal } from '../../../machines/replay.ts';
import { pressesOf, textOf } from './presses.ts';

const anyOptions: fc.Arbitrary<RehearsalOptions> = fc.record({
  seed: fc.nat(),
  minutes: fc.double({ min: 0.1, max: 4, noNaN: true }),
  plan: fc.constantFrom(...REHEARSAL_PLANS),
  binding: fc.constantFrom(...BINDINGS),
  guidance: fc.constantFrom(...GUIDANCES),
  cycleMs: fc.constantFrom(2000, 2400, 4000),
  stepMs: fc.constantFrom(0, 0.1, 1, 8),
  noise: fc.record({ bounceRate: fc.constantFrom(0, 0.3), repeatRate: fc.constantFrom(0, 1) }),
  handovers: fc.record({ takenRate: fc.constantFrom(0, 1), seamlessRate: fc.constantFrom(0.05, 0.5) }),
});

test('every journal is one that the reader takes, whole and closed', () => {
  fc.assert(
    fc.property(anyOptions, (options) => {
      const rehearsal = rehearse(options);
      const read = readJournal(textOf(rehearsal));
      if (!read.ok) throw new Error(`line ${read.error.line}: ${read.error.field} ${read.error.problem}`);
      expect(read.journal.isClosed).toBe(true);
      expect(read.journal.skipped).toEqual({ lines: 0, fields: 0, tornBytes: 0 });
      expect(read.journal.lines.map(({ line }) => line)).toEqual(rehearsal.lines);
    }),
    { numRuns: 200 },
  );
});

test.each(READY_MADE_NAMES.filter((name) => name !== 'whole-sequence'))(
  'the station’s own plan %s is played to its finish, its calls at its times',
  (plan) => {
    const rehearsal = rehearse({ seed: 3, plan });
    const read = readJournal(textOf(rehearsal));
    if (!read.ok) throw new Error(`line ${read.error.line}: ${read.error.field} ${read.error.problem}`);
    expect(read.journal.open.plan).toEqual(READY_MADE[plan]);
    const calls = rehearsal.lines.filter((line) => line.kind === 'call');
    const [begin] = calls;
    const finish = calls.at(-1);
    expect([begin?.call, finish?.call]).toEqual(['begin', 'finish']);
    const lastsMs = (finish?.at ?? 0) - (begin?.at ?? 0);
    // A leg that the instructor calls waits for the window's next tick.
    expect(lastsMs).toBeGreaterThanOrEqual(lengthOf(READY_MADE[plan]));
    expect(lastsMs).toBeLessThan(lengthOf(READY_MADE[plan]) + 250 * READY_MADE[plan].legs.length);
    const { report } = scoreJournal(read.journal);
    expect(report.warnings).toEqual([]);
    expect(report.drill.cycles.total).toBeGreaterThan(15);
  },
);

test('a switch is down and up by turns, and stays up longer than bounce, whatever happens', () => {
  fc.assert(
    fc.property(anyOptions, (options) => {
      const { lines } = rehearse({ ...options, noise: {}, stepMs: 0 });
      for (const name of ['chest', 'airway', 'A', 'B'] as const) {
        const edges = lines.filter((line) => line.kind === 'edge' && line.switch === name);
        expect(edges.every((edge, k) => edge.kind === 'edge' && edge.down === (k % 2 === 0))).toBe(true);
        const presses = pressesOf(lines, name);
        expect(
          presses.every(({ on, off }, k) => off > on && (presses[k + 1]?.on ?? off + 40) - off >= 39.99),
        ).toBe(true);
      }
    }),
    { numRuns: 100 },
  );
});

test('the same options give the same journal byte for byte; another seed gives another', () => {
  const options = { seed: 42, minutes: 3, plan: 'whole' as const };
  expect(textOf(rehearse(options))).toBe(textOf(rehearse(options)));
  const texts = new Set(Array.from({ length: 50 }, (_, seed) => textOf(rehearse({ ...options, seed }))));
  expect(texts.size).toBe(50);
});

test('a drill lasts as long as it was asked for, and is about two thirds compressions at the pattern’s rates', () => {
  const { lines, truth } = rehearse({ seed: 8, minutes: 10, plan: 'steady' });
  const finish = lines.find((line) => line.kind === 'call' && line.call === 'finish');
  expect(finish?.kind === 'call' && finish.at).toBe(601_500);
  expect(truth.cycles.length).toBeGreaterThan(270);
  expect(truth.cycles.length).toBeLessThan(330);
  expect(pressesOf(lines, 'chest').length / pressesOf(lines, 'airway').length).toBeCloseTo(3, 0);
});

describe('plans', () => {
  const callsOf = (options: RehearsalOptions) =>
    rehearse(options).lines.flatMap((line) => (line.kind === 'call' ? [line.call] : []));

  test.each([
    ['two-minutes-and-swap', ['begin', 'swap', 'finish']],
    ['techniques', ['begin', ...Array.from({ length: 5 }, () => 'technique'), 'finish']],
    ['check', ['begin', 'check', 'heart-rate', 'checked', 'finish']],
    ['rest', ['begin', 'rest', 'resume', 'finish']],
    ['steady', ['begin', 'finish']],
    [
      'whole',
      ['begin', 'swap', 'technique', 'stance', 'check', 'heart-rate', 'checked', 'rest', 'resume', 'finish'],
    ],
  ] as const)('%s', (plan, expected) => {
    expect(callsOf({ seed: 1, plan })).toEqual(expected);
  });

  test('nobody presses during a check or a rest, once the cycle is finished, nor long after the finish', () => {
    const { lines } = rehearse({ seed: 3, minutes: 4, plan: 'whole' });
    const at = (name: string) =>
      lines.find((line) => line.kind === 'call' && line.call === name)?.at ?? Number.NaN;
    const presses = [...pressesOf(lines, 'chest'), ...pressesOf(lines, 'airway')];
    const during = (from: number, to: number) => presses.filter(({ on }) => on > from + 3000 && on < to);
    expect(during(at('check'), at('checked'))).toEqual([]);
    expect(during(at('rest'), at('resume'))).toEqual([]);
    expect(during(at('finish'), Number.POSITIVE_INFINITY)).toEqual([]);
  });

  test('a script of one’s own is played, guidance and tempo with it', () => {
    const { lines, truth } = rehearse({
      seed: 5,
      planted: [],
      script: [
        { atMs: 1000, call: 'begin' },
        { atMs: 31_000, call: 'tempo', cycleMs: 4000 },
        { atMs: 31_000, call: 'guidance', guidance: 'led' },
        { atMs: 91_000, call: 'finish' },
      ],
    });
    const starts = truth.cycles.map(({ startMs }) => startMs);
    const lengths = starts.slice(1).map((start, k) => start - (starts[k] ?? 0));
    expect(lines.filter((line) => line.kind === 'call')).toHaveLength(4);
    expect(lengths.slice(0, 10).every((length) => length < 2400)).toBe(true);
    expect(lengths.slice(-10).every((length) => length > 3600 && length < 4400)).toBe(true);
  });
});

test('what cannot be is refused with the value that is wrong', () => {
  expect(() => rehearse({ seed: -1 })).toThrow('-1 is not a whole number from 0');
  expect(() => rehearse({ seed: 1, minutes: 0 })).toThrow('0 minutes is not 0.1 to 1439');
  expect(() => rehearse({ seed: 1, minutes: Number.NaN })).toThrow('NaN minutes');
  expect(() => rehearse({ seed: 1, binding: 'person', rig: 'manikin' })).toThrow(
    'a person binding needs a rhythm rig',
  );
});

test('the metronome is the ideal grid', () => {
  const { open, lines } = metronome({ cycles: 30 });
  const chest = pressesOf(lines, 'chest').map(({ on }) => on);
  const airway = pressesOf(lines, 'airway').map(({ on }) => on);
  expect(readJournal(textOf({ open, lines })).ok).toBe(true);
  expect(chest).toEqual([
    ...Array.from({ length: 90 }, (_, k) => 1000 + 2000 * Math.floor(k / 3) + 500 * (k % 3)),
    61_000,
  ]);
  expect(airway).toEqual(Array.from({ length: 30 }, (_, k) => 2500 + 2000 * k));
  expect(pressesOf(metronome({ cycles: 3, binding: 'person' }).lines, 'A')).toHaveLength(10);
});
