import { describe, expect, it } from 'vitest';
import { PERSON_RULES, type PersonRuleId } from '../../../machines/scoring/advice-rules.ts';
import { exactShareInterval } from '../../../machines/statistics/binomial.ts';
import { adviceOfLines, allMet } from '../../support/advised-pair.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Plays one cycle from its first compression, and says when the next one starts. */
type Play = (builder: JournalBuilder, at: number, cycle: number) => number;

const cycle =
  (compressions: readonly number[], breath: number | null, next: number, breathMs = 400): Play =>
  (builder, at) => {
    builder.cycle(
      compressions.map((on) => at + on),
      null,
    );
    if (breath !== null) builder.press('airway', at + breath, at + breath + breathMs);
    return at + next;
  };
const GOOD = cycle([0, 500, 1000], 1500, 2000);
const paced = (beat: number): Play => cycle([0, beat, 2 * beat], 3 * beat, 4 * beat, 300);
const both =
  (...plays: readonly Play[]): Play =>
  (builder, at, index) =>
    plays.reduce((start, play) => play(builder, start, index), at);

/** Thirty cycles and what closes the last, of which every fourth is as given, and the rest as `others`. */
function drill(faulty: Play, others: Play = GOOD, count = 30) {
  const builder = new JournalBuilder().call(0, 'begin');
  let at = 1000;
  for (let index = 0; index < count; index += 1) at = (index % 4 === 2 ? faulty : others)(builder, at, index);
  builder.cycle([at], null);
  return adviceOfLines(builder.open, [...builder.lines.map(({ line }) => line), ...allMet(1500)]);
}

const near = (value: number): number => expect.closeTo(value, 6);
const SEVEN_OF_THIRTY = { kind: 'share', count: 7, of: 30, ...exactShareInterval(7, 30) };

/** The rule, who does what in the cycles in question, and the evidence and the first row that shows it. Ada compresses, Ben ventilates. */
const TABLE: {
  rule: PersonRuleId;
  faulty: Play;
  others?: Play;
  count?: number;
  evidence?: object;
  rows?: number;
  first?: { row: number; startMs: number };
}[] = [
  { rule: 'breath-too-soon', faulty: cycle([0, 500, 1000], 1100, 2000) },
  { rule: 'compression-too-soon', faulty: cycle([0, 500, 1000], 1500, 1700) },
  {
    rule: 'breath-before-third',
    faulty: (builder, at) => {
      builder.cycle([at, at + 500], at + 800).cycle([at + 1000], null);
      return at + 2000;
    },
  },
  {
    rule: 'no-room',
    faulty: both(cycle([0, 500, 1000], null, 1500), cycle([0, 500, 1000], 1500, 2000)),
  },
  {
    rule: 'no-breath',
    faulty: both(cycle([0, 500, 1000], null, 2000), GOOD),
  },
  { rule: 'pause', faulty: cycle([0, 500, 1000], 1500, 4500) },
  { rule: 'four-compressions', faulty: cycle([0, 500, 1000, 1500], 2000, 2500) },
  { rule: 'compression-not-registered', faulty: cycle([0, 500], 1500, 2000) },
  {
    rule: 'several-breaths',
    faulty: (builder, at) => {
      builder.cycle([at, at + 500, at + 1000], null);
      builder.press('airway', at + 1400, at + 1550).press('airway', at + 1650, at + 1900);
      return at + 2000;
    },
  },
  {
    rule: 'compression-held',
    faulty: (builder, at) => {
      builder.cycle([at, at + 500], null).press('chest', at + 1000, at + 1600);
      builder.press('airway', at + 1500, at + 1900);
      return at + 2000;
    },
  },
  {
    rule: 'breath-early',
    faulty: cycle([0, 500, 1000], 1350, 2000),
    others: cycle([0, 500, 1000], 1350, 2000),
    evidence: {
      kind: 'mean',
      of: 'lagRatio',
      value: near(0.7),
      ideal: 1,
      smallest: 0.2,
      awayMs: near(150),
      cycles: 30,
    },
    rows: 30,
    first: { row: 0, startMs: 1000 },
  },
  {
    rule: 'breath-late',
    faulty: cycle([0, 500, 1000], 1650, 2000),
    others: cycle([0, 500, 1000], 1650, 2000),
    evidence: {
      kind: 'mean',
      of: 'lagRatio',
      value: near(1.3),
      ideal: 1,
      smallest: 0.2,
      awayMs: near(150),
      cycles: 30,
    },
    rows: 30,
    first: { row: 0, startMs: 1000 },
  },
  { rule: 'let-go-late', faulty: cycle([0, 500, 1000], 1500, 2000, 700) },
  { rule: 'breath-early-at-times', faulty: cycle([0, 500, 1000], 1250, 2000) },
  { rule: 'breath-late-at-times', faulty: cycle([0, 500, 1000], 1800, 2000, 200) },
  {
    rule: 'pace-fast',
    faulty: paced(440),
    others: paced(440),
    evidence: { kind: 'mean', of: 'interval', value: 440, ideal: 500, smallest: 25, awayMs: 60, cycles: 30 },
    rows: 30,
    first: { row: 0, startMs: 1000 },
  },
  {
    rule: 'pace-slow',
    faulty: paced(560),
    others: paced(560),
    evidence: { kind: 'mean', of: 'interval', value: 560, ideal: 500, smallest: 25, awayMs: 60, cycles: 30 },
    rows: 30,
    first: { row: 0, startMs: 1000 },
  },
  { rule: 'uneven', faulty: cycle([0, 350, 1000], 1500, 2000) },
  {
    rule: 'start-early',
    faulty: cycle([0, 500, 1000], 1500, 1860, 250),
    others: cycle([0, 500, 1000], 1500, 1860, 250),
    evidence: { kind: 'mean', of: 'start', value: -140, ideal: 0, smallest: 100, awayMs: 140, cycles: 30 },
    rows: 30,
    first: { row: 0, startMs: 1000 },
  },
  {
    rule: 'start-late',
    faulty: cycle([0, 500, 1000], 1500, 2150),
    others: cycle([0, 500, 1000], 1500, 2150),
    evidence: { kind: 'mean', of: 'start', value: 150, ideal: 0, smallest: 100, awayMs: 150, cycles: 30 },
    rows: 30,
    first: { row: 0, startMs: 1000 },
  },
  {
    rule: 'pace-change',
    faulty: (builder, at, index) => paced(490 + index)(builder, at, index),
    others: (builder, at, index) => paced(490 + index)(builder, at, index),
    count: 40,
    evidence: { kind: 'pace change' },
    rows: 40,
    first: { row: 0, startMs: 1000 },
  },
];

it('has a row for every rule, in their order', () => {
  expect(TABLE.map(({ rule }) => rule)).toEqual(PERSON_RULES.map(({ id }) => id));
});

describe.each(TABLE)('$rule', ({ rule, faulty, others, count, evidence, rows, first }) => {
  const { forPerson, pair, first: tick } = drill(faulty, others, count);
  const role = PERSON_RULES.find(({ id }) => id === rule)?.role;
  const [told, other] = role === 'compressor' ? [forPerson.A, forPerson.B] : [forPerson.B, forPerson.A];
  it('is told to the one who began too soon or did it, with the evidence', () => {
    expect({ rule: told.toTry?.rule, role: told.toTry?.role }).toEqual({ rule, role });
    if (evidence === undefined) {
      const of = told.cycles.compressor + told.cycles.ventilator;
      expect(told.toTry?.evidence).toEqual({ ...SEVEN_OF_THIRTY, of, ...exactShareInterval(7, of) });
    } else expect(told.toTry?.evidence).toMatchObject(evidence);
  });
  it('and to nobody else', () => {
    expect([other.toTry, pair.toTry, tick]).toEqual([null, null, null]);
  });
  it('with the rows that show it', () => {
    expect(told.toTry?.rows).toHaveLength(rows ?? 7);
    expect(told.toTry?.rows[0]).toEqual({ bout: 0, ...(first ?? { row: 2, startMs: 5000 }) });
  });
  it('and is not praised for it', () => {
    const mayStand = ['let-go-late'];
    expect(told.praise === null || mayStand.includes(rule)).toBe(true);
  });
});

it('a mean that a few cycles moved is told as those few, not as most', () => {
  const { forPerson } = drill(cycle([0, 500, 1000], 1960, 2500));
  expect(forPerson.B.toTry).toMatchObject({ rule: 'breath-late-at-times', evidence: { count: 7, of: 30 } });
});

it.each([
  ['three compressions where a breath cut them short', cycle([0, 500], 800, 2000)],
  ['three compressions with no breath after them', cycle([0, 500, 1000], null, 2000)],
  ['a breath after four', cycle([0, 500, 1000, 1500], 2000, 2500)],
])('nobody is praised for %s', (_, play) => {
  const { forPerson } = drill(play, both(play, GOOD));
  expect([forPerson.A.praise, forPerson.B.praise]).toEqual([null, null]);
});

describe('what is not told', () => {
  it('anything of a pair that does everything as it should be', () => {
    const { forPerson, pair, first, tooLittle } = drill(GOOD);
    expect([forPerson.A.toTry, forPerson.B.toTry, pair.toTry, first, tooLittle]).toEqual([
      null,
      null,
      null,
      null,
      false,
    ]);
  });
  it('a breath that is always 90 ms early: that is under 100 ms', () => {
    const early = cycle([0, 500, 1000], 1410, 2000);
    expect(drill(early, early).forPerson.B.toTry).toBeNull();
  });
  it.each([12, 30])('what came twice in %i cycles', (count) => {
    const builder = new JournalBuilder().call(0, 'begin');
    let at = 1000;
    for (let index = 0; index < count; index += 1)
      at = (index === 5 || index === 10 ? cycle([0, 500, 1000], 1100, 2000) : GOOD)(builder, at, index);
    const advice = adviceOfLines(
      builder.cycle([at], null).open,
      builder.lines.map(({ line }) => line),
    );
    expect(advice.forPerson.B.toTry).toBeNull();
  });
  it('anything of twenty seconds, however wrong: too little to say', () => {
    const wrong = cycle([0, 500, 1000], 1100, 2000);
    const { tooLittle, cycles, forPerson } = drill(wrong, wrong, 9);
    expect({ tooLittle, cycles, told: forPerson.B.toTry }).toEqual({
      tooLittle: true,
      cycles: 9,
      told: null,
    });
  });
  it('the pace of a slowed stretch', () => {
    const builder = new JournalBuilder({ cycleMs: 3000 }).call(0, 'begin').ideal(1000, 30, 3000);
    const advice = adviceOfLines(
      builder.cycle([91_000], null).open,
      builder.lines.map(({ line }) => line),
    );
    expect([advice.forPerson.A.toTry, advice.forPerson.B.toTry]).toEqual([null, null]);
  });
});
