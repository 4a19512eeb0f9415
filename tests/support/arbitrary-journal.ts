import fc from 'fast-check';
import {
  type BodyLine,
  checkLine,
  type OpenLine,
  type Person,
  type Switch,
  switchesOf,
} from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { openLine } from './journal-builder.ts';

/** Any journal that its reader takes, with times on, just under and just over the limits of design section 5. */
export type AnyJournal = { open: OpenLine; lines: NumberedLine[] };
type Draft = { atUs: number; line: Record<string, unknown> };

/** Lengths that decide something at T = 2000 ms and bounce 25 ms, in µs, and some that do not. */
const LIMITS_US = [
  0, 24_999, 25_000, 50_000, 50_001, 100_000, 100_001, 200_000, 300_000, 300_001, 500_000, 700_000, 800_000,
  800_001, 1_000_000, 1_000_001, 1_200_000, 1_300_000, 1_300_001, 2_000_000, 4_999_000, 5_000_000, 5_000_001,
  9_500_000, 10_000_000,
];
const shortUs = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...LIMITS_US.slice(0, 19)) },
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 1_400 }).map((ms) => ms * 1000) },
  { weight: 1, arbitrary: fc.integer({ min: 0, max: 1_400_000 }) },
);
const anyUs = fc.oneof(
  { weight: 5, arbitrary: shortUs },
  { weight: 1, arbitrary: fc.constantFrom(...LIMITS_US, 29_999_999, 30_000_000) },
);

const anyCall = fc.oneof(
  { weight: 6, arbitrary: fc.constant({ call: 'swap' }) },
  { weight: 3, arbitrary: fc.constant({ call: 'taken' }) },
  {
    weight: 3,
    arbitrary: fc
      .constantFrom('two-thumb', 'two-finger')
      .map((technique) => ({ call: 'technique', technique })),
  },
  {
    weight: 2,
    arbitrary: fc.constantFrom('foot-end', 'head-end', 'side').map((stance) => ({ call: 'stance', stance })),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom('led', 'weaned', 'unled').map((guidance) => ({ call: 'guidance', guidance })),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom(1000, 2000, 2345.678, 3000).map((cycleMs) => ({ call: 'tempo', cycleMs })),
  },
  { weight: 1, arbitrary: fc.constantFrom('mask', 'secured').map((airway) => ({ call: 'airway', airway })) },
  { weight: 2, arbitrary: fc.constantFrom(50, 59, 60, 120).map((bpm) => ({ call: 'heart-rate', bpm })) },
  {
    weight: 6,
    arbitrary: fc
      .constantFrom(
        'undo',
        'undo',
        'check',
        'checked',
        'checked',
        'rest',
        'resume',
        'resume',
        'finish',
        'begin',
      )
      .map((call) => ({ call })),
  },
);

/** One stretch of a drill, by who holds which switch (0 or 1), from a time on; and how long it takes. */
type Step = (fromUs: number, names: readonly [Switch, Switch]) => { drafts: Draft[]; untilUs: number };

const edge = (atUs: number, name: Switch, down: boolean, lost = false): Draft => ({
  atUs,
  line: { kind: 'edge', switch: name, down, ...(lost ? { lost } : {}) },
});
const anySide = fc.constantFrom(0 as const, 1 as const);

/** Presses of one switch in a row, as a compressor makes them, or one, as a ventilator does. */
const anyPresses = fc
  .tuple(anySide, fc.array(fc.tuple(shortUs, shortUs), { minLength: 1, maxLength: 4 }), fc.boolean())
  .map(
    ([side, list, isLost]): Step =>
      (fromUs, names) => {
        let atUs = fromUs;
        const drafts = list.flatMap(([waitUs, heldUs], index) => {
          atUs += waitUs;
          const on = atUs;
          return [edge(on, names[side], true), edge(on + heldUs, names[side], false, isLost && index === 0)];
        });
        return { drafts, untilUs: atUs };
      },
  );
/** Ideal cycles with a little wobble, by either pair of hands. */
const anyCycles = fc
  .record({
    side: anySide,
    count: fc.integer({ min: 1, max: 8 }),
    beatUs: fc.constantFrom(400_000, 500_000, 530_000, 530_001),
    breathHeldUs: shortUs,
    isBreathless: fc.boolean(),
    /** Which beat the next stretch begins at: it can fall into this one. */
    share: fc.constantFrom(0, 0.3, 0.6, 0.9, 1),
  })
  .map(
    ({ side, count, beatUs, breathHeldUs, isBreathless, share }): Step =>
      (fromUs, names) => {
        const other = side === 0 ? names[1] : names[0];
        const drafts: Draft[] = [];
        for (let beat = 0; beat < 4 * count; beat += 1) {
          const on = fromUs + beat * beatUs;
          const isBreath = beat % 4 === 3;
          const name = isBreath ? other : names[side];
          if (isBreath && isBreathless && count > 3) continue;
          drafts.push(edge(on, name, true), edge(on + (isBreath ? breathHeldUs : 200_000), name, false));
        }
        return { drafts, untilUs: fromUs + Math.floor(4 * count * share) * beatUs };
      },
  );
/** A call, then both people at once: one letting go too late or too soon, the other taking up. */
const anyChange = fc
  .record({
    calls: fc.array(fc.tuple(shortUs, anyCall), { minLength: 1, maxLength: 2 }),
    one: fc.array(fc.tuple(shortUs, shortUs), { maxLength: 5 }),
    other: fc.array(fc.tuple(shortUs, shortUs), { maxLength: 5 }),
  })
  .map(
    ({ calls, one, other }): Step =>
      (fromUs, names) => {
        let untilUs = fromUs;
        const times = (list: readonly (readonly [number, unknown])[]) => {
          let atUs = fromUs;
          return list.map(([waitUs]) => {
            atUs += waitUs;
            untilUs = Math.max(untilUs, atUs);
            return atUs;
          });
        };
        const presses = (list: readonly (readonly [number, number])[], name: Switch) =>
          times(list).flatMap((on, index) => [
            edge(on, name, true),
            edge(on + Math.floor((list[index]?.[1] ?? 0) / 4), name, false),
          ]);
        const drafts = [...presses(one, names[0]), ...presses(other, names[1])];
        for (const [index, atUs] of times(calls).entries())
          drafts.push({ atUs, line: { kind: 'call', ...calls[index]?.[1] } });
        return { drafts, untilUs };
      },
  );
/** A call, then compressions past its 10 s, with or without a breath and `taken`, to the microsecond. */
const anySlowChange = fc
  .record({
    side: anySide,
    call: anyCall,
    callUs: fc.constantFrom(499_999, 500_000, 500_001, 700_000),
    takenUs: fc.constantFrom(null, null, null, null, 1_299_999, 1_300_000, 1_300_001),
    breathBeat: fc.constantFrom(null, 2, 20, 21),
    beats: fc.integer({ min: 21, max: 24 }),
  })
  .map(
    ({ side, call, callUs, takenUs, breathBeat, beats }): Step =>
      (fromUs, names) => {
        const drafts: Draft[] = [{ atUs: fromUs + callUs, line: { kind: 'call', ...call } }];
        if (takenUs !== null) drafts.push({ atUs: fromUs + takenUs, line: { kind: 'call', call: 'taken' } });
        for (let beat = 0; beat < beats; beat += 1) {
          const on = fromUs + beat * 500_000;
          drafts.push(edge(on, names[side], true), edge(on + 200_000, names[side], false));
          if (beat !== breathBeat) continue;
          const other = side === 0 ? names[1] : names[0];
          drafts.push(edge(on + 250_000, other, true), edge(on + 350_000, other, false));
        }
        return { drafts, untilUs: fromUs + beats * 500_000 };
      },
  );
/** A swap, and someone who comes at the very edge of its 30 s. */
const anyLateComer = fc
  .tuple(
    anySide,
    fc.constantFrom(0, 1, 29_200_000, 29_999_999, 30_000_000),
    fc.constantFrom(400_000, 800_000, 800_001),
  )
  .map(
    ([side, waitUs, gapUs]): Step =>
      (fromUs, names) => {
        const onsets = [fromUs + waitUs, fromUs + waitUs + gapUs];
        const presses = onsets.flatMap((on) => [
          edge(on, names[side], true),
          edge(on + 100_000, names[side], false),
        ]);
        const drafts = [{ atUs: fromUs, line: { kind: 'call', call: 'swap' } }, ...presses];
        return { drafts, untilUs: fromUs + waitUs + gapUs };
      },
  );
const anyLine = fc
  .oneof(
    { weight: 6, arbitrary: anyCall.map((call) => ({ kind: 'call', ...call })) },
    { weight: 1, arbitrary: fc.constant({ kind: 'note', text: 'x' }) },
    {
      weight: 2,
      arbitrary: fc
        .constantFrom(true, true, false, null)
        .map((met) => ({ kind: 'tick', item: 'chest-rise', met, by: 'instructor' })),
    },
    {
      weight: 1,
      arbitrary: fc.constantFrom<Record<string, unknown>>(
        { kind: 'later' },
        { kind: 'device', what: 'unplugged' },
      ),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(anySide, fc.boolean(), fc.boolean())
        .map(([side, down, lost]) => ({ kind: 'edge', side, down, ...(lost ? { lost } : {}) })),
    },
  )
  .map(
    (fields): Step =>
      (atUs, names) => {
        const { side, ...line } = fields as { side?: 0 | 1 };
        return {
          drafts: [{ atUs, line: { ...line, ...(side === undefined ? {} : { switch: names[side] }) } }],
          untilUs: atUs,
        };
      },
  );
/** A count that is given or stopped, near to now; its cycle is now and then not whole. */
const anyCount = fc
  .record({
    isGiven: fc.boolean(),
    offUs: fc.integer({ min: -3_000_000, max: 3_000_000 }),
    cycleMs: fc.constantFrom(2000, 1999.987, 3000),
    by: fc.constantFrom('sound', 'sight'),
    beat: fc.constantFrom('one', 'three'),
    isNone: fc.boolean(),
  })
  .map(
    ({ isGiven, offUs, cycleMs, by, beat, isNone }): Step =>
      (atUs) => {
        const ms = Math.max(0, atUs + offUs) / 1000;
        const line = isGiven
          ? { what: 'given', by, fromMs: ms, beat, cycleMs, outputLatencyMs: null, errorMs: 0.1 }
          : { what: 'stopped', lastMs: isNone ? null : ms };
        return { drafts: [{ atUs, line: { kind: 'count', ...line } }], untilUs: atUs };
      },
  );
/** A check with a heart rate announced in it, and breaths by either person after it. */
const anyCheck = fc
  .record({ side: anySide, bpm: fc.constantFrom(50, 60, 120), breaths: fc.integer({ min: 0, max: 4 }) })
  .map(
    ({ side, bpm, breaths }): Step =>
      (fromUs, names) => {
        const call = (afterUs: number, line: object) => ({
          atUs: fromUs + afterUs,
          line: { kind: 'call', ...line },
        });
        const drafts: Draft[] = [
          call(0, { call: 'check' }),
          call(1_000_000, { call: 'heart-rate', bpm }),
          call(2_000_000, { call: 'checked' }),
        ];
        for (let breath = 0; breath < breaths; breath += 1) {
          const on = fromUs + 2_500_000 + breath * 1_500_000;
          drafts.push(edge(on, names[side], true), edge(on + 800_000, names[side], false));
        }
        return { drafts, untilUs: fromUs + 2_500_000 + breaths * 1_500_000 };
      },
  );
const anyStep = fc.oneof(
  { weight: 2, arbitrary: anyCheck },
  { weight: 2, arbitrary: anyCount },
  { weight: 4, arbitrary: anyLine },
  { weight: 4, arbitrary: anyPresses },
  { weight: 3, arbitrary: anyCycles },
  { weight: 5, arbitrary: anyChange },
  { weight: 2, arbitrary: anySlowChange },
  { weight: 1, arbitrary: anyLateComer },
);

const anyOpen = fc
  .record({
    binding: fc.constantFrom('place' as const, 'person' as const),
    bounceMs: fc.constantFrom(0, 25),
    tolerance: fc.constantFrom('standard' as const, 'first' as const),
    compressor: fc.constantFrom<Person>('A', 'B'),
    /** An offset of so many µs between the switches, and whether it is taken out; none in half of all journals. */
    offset: fc.option(
      fc.tuple(fc.constantFrom(-100_000, -60_001, -1, 0, 1, 8_000, 49_999, 100_000), fc.boolean()),
    ),
  })
  .map(({ compressor, offset, ...rest }) =>
    openLine({
      ...rest,
      roles: { compressor, ventilator: compressor === 'A' ? 'B' : 'A' },
      ...(offset === null
        ? {}
        : {
            switchOffset: { medianMs: offset[0] / 1000, spreadMs: 2, errorMs: 3, n: 10, applied: offset[1] },
          }),
    }),
  );

export function anyJournal(maxSteps = 14): fc.Arbitrary<AnyJournal> {
  const anySteps = fc.array(fc.tuple(anyUs, anyStep), { minLength: 1, maxLength: maxSteps });
  return fc
    .tuple(anyOpen, anySteps, fc.boolean(), fc.boolean())
    .map(([open, steps, isClosed, isVentilated]) => {
      const begin = { kind: 'call', call: 'begin', ...(isVentilated ? { stage: 'ventilation' } : {}) };
      const drafts: Draft[] = [{ atUs: 0, line: begin }];
      let atUs = 0;
      for (const [waitUs, step] of steps) {
        const made = step(atUs + waitUs, switchesOf(open.binding));
        drafts.push(...made.drafts);
        atUs = made.untilUs;
      }
      drafts.sort((one, other) => one.atUs - other.atUs);
      const lastUs = drafts.at(-1)?.atUs ?? 0;
      if (isClosed) drafts.push({ atUs: lastUs, line: { kind: 'close' } });
      return {
        open,
        lines: drafts.map(({ atUs: us, line }, index) => ({
          number: index + 2,
          line: bodyLine({ ...line, at: us / 1000 }),
        })),
      };
    });
}

function bodyLine(value: unknown): BodyLine {
  const parsed = checkLine(value);
  if (!parsed.ok || parsed.line.kind === 'open') throw new Error(`not a line: ${JSON.stringify(value)}`);
  return parsed.line;
}
