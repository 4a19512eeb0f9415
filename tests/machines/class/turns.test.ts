import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Need, needOf, type Tally, talliesOf } from '../../../machines/class/tally.ts';
import { type DoneTurn, type Group, stationsUsed } from '../../../machines/class/turn.ts';
import { type ClassState, leastTurns, turnsOf, turnsToCome } from '../../../machines/class/turns.ts';
import { limitWords, turnLines, turnsWords } from '../../../machines/words/class-words.ts';

function classOf(people: number | readonly string[], stations: number, over: Partial<ClassState> = {}) {
  const names = typeof people === 'number' ? Array.from({ length: people }, (_, at) => `P${at + 1}`) : people;
  return { people: names, stations, done: [], turnMinutes: 8, ...over } satisfies ClassState;
}
const namesIn = ({ chest, airway, observer }: Group) => [
  chest,
  airway,
  ...(observer === null ? [] : [observer]),
];
const NOTHING_LACKED: Need = { chest: false, airway: false, partners: 0 };

/** What everybody still lacks once all turns are held. */
function lackedAfter({ people, done }: ClassState, turns: readonly DoneTurn[]): Need[] {
  const tallies = talliesOf(people, [...done, ...turns]);
  return people.map((name) => needOf(name, tallies.get(name) ?? never(), people));
}
function never(): never {
  throw new Error('nobody of that name');
}
/** Nobody twice at once, nobody who is not here, nobody forgotten, no station that there is not. */
function expectWellSeated(
  { people, stations }: ClassState,
  groups: readonly Group[],
  rest: readonly string[],
) {
  expect([...groups.flatMap(namesIn), ...rest].sort()).toEqual([...people].sort());
  expect(groups.map(({ station }) => station)).toEqual(groups.map((_, at) => at + 1));
  expect(groups.length).toBeLessThanOrEqual(stations);
}

describe('turns of a class', () => {
  it('give everyone both roles and two partners, in no more turns than the seats allow, at every size', () => {
    let sizes = 0;
    for (let people = 3; people <= 40; people += 1)
      for (let stations = 1; stations <= 12; stations += 1) {
        const state = classOf(people, stations);
        const { turns } = turnsOf(state);
        for (const { groups, rest } of turns) expectWellSeated(state, groups, rest);
        expect(lackedAfter(state, turns)).toEqual(state.people.map(() => NOTHING_LACKED));
        // A chest for each of them: no plan can be shorter.
        expect([people, stations, turns.length]).toEqual([
          people,
          stations,
          Math.ceil(people / stationsUsed(people, stations)),
        ]);
        sizes += 1;
      }
    expect(sizes).toBe(456);
  });

  it('are held equally often: chest, airway, looking and waiting differ by two at the most, however long it goes on', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 40 }), fc.integer({ min: 1, max: 12 }), (people, stations) => {
        const state = classOf(people, stations, { extraTurns: 12 });
        const { turns } = turnsOf(state);
        for (let held = 1; held <= turns.length; held += 1) {
          const tallies = [...talliesOf(state.people, turns.slice(0, held)).values()];
          for (const part of ['chest', 'airway', 'observer', 'rests'] as const satisfies (keyof Tally)[]) {
            const counts = tallies.map((tally) => tally[part]);
            expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(2);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('keep what was held, whoever comes late or leaves, and give all who are here what they lack', () => {
    const day = fc.record({
      people: fc.integer({ min: 2, max: 40 }),
      stations: fc.integer({ min: 1, max: 12 }),
      changes: fc.array(
        fc.record({
          turns: fc.integer({ min: 0, max: 3 }),
          leave: fc.array(fc.nat(39), { maxLength: 4 }),
          come: fc.integer({ min: 0, max: 3 }),
          stations: fc.integer({ min: 1, max: 12 }),
        }),
        { minLength: 1, maxLength: 4 },
      ),
    });
    fc.assert(
      fc.property(day, ({ people, stations, changes }) => {
        let state: ClassState = classOf(people, stations);
        for (const [at, change] of changes.entries()) {
          const held = turnsOf(state).turns.slice(0, change.turns);
          const left = new Set(change.leave.map((index) => state.people[index]));
          const late = Array.from({ length: change.come }, (_, index) => `Late ${at}.${index}`);
          const here = [...state.people.filter((name) => !left.has(name)), ...late].slice(0, 40);
          state = { ...state, people: here, stations: change.stations, done: [...state.done, ...held] };
        }
        const { turns, limit, stations: used } = turnsOf(state);
        if (state.people.length < 2) {
          expect([turns, limit]).toEqual([[], state.people.length === 0 ? 'nobody' : 'one person']);
          return;
        }
        for (const { groups, rest } of turns) expectWellSeated(state, groups, rest);
        expect(lackedAfter(state, turns)).toEqual(state.people.map(() => NOTHING_LACKED));
        expect(turns.map(({ number }) => number)).toEqual(turns.map((_, at) => state.done.length + at + 1));
        const least = leastTurns(state.people, used.used, talliesOf(state.people, state.done));
        expect(turns.length).toBeLessThanOrEqual(least + 1);
      }),
      { numRuns: 120 },
    );
  });

  it('of two people are two, in which they change roles; of three, all three roles with both others', () => {
    expect(turnsOf(classOf(['Ada', 'Ben'], 1))).toEqual({
      turns: [
        {
          number: 1,
          startMinutes: 0,
          groups: [{ station: 1, chest: 'Ada', airway: 'Ben', observer: null }],
          rest: [],
          isExtra: false,
        },
        {
          number: 2,
          startMinutes: 8,
          groups: [{ station: 1, chest: 'Ben', airway: 'Ada', observer: null }],
          rest: [],
          isExtra: false,
        },
      ],
      turnMinutes: 8,
      limit: 'two people have one partner each',
      stations: { used: 1, empty: 0 },
    });
    expect(limitWords('two people have one partner each')).toBe(
      'Two people change roles with each other: two partners each are not possible.',
    );
    const three = turnsOf(classOf(['Ada', 'Ben', 'Cleo'], 2));
    expect(three.stations).toEqual({ used: 1, empty: 1 });
    const held = talliesOf(['Ada', 'Ben', 'Cleo'], three.turns);
    expect([...held.values()].map(({ chest, airway, observer }) => [chest, airway, observer])).toEqual([
      [1, 1, 1],
      [1, 1, 1],
      [1, 1, 1],
    ]);
    expect(turnsWords(three)).toBe('3 turns of 8 minutes, 24 minutes in all; station 2 stays empty');
  });

  it.each([
    // Nobody waits beside a free station, and no full trio is broken for one.
    [4, 1, ['3', 'rest 1']],
    [4, 2, ['2', '2']],
    [5, 2, ['3', '2']],
    [6, 3, ['3', '3']],
    [7, 3, ['3', '2', '2']],
    [8, 2, ['3', '3', 'rest 2']],
  ])('of %i people at %i stations are groups of %j', (people, stations, sizes) => {
    const [first] = turnsOf(classOf(people, stations)).turns;
    const rest = first?.rest.length ?? 0;
    expect([
      ...(first?.groups ?? []).map((group) => String(namesIn(group).length)),
      ...(rest === 0 ? [] : [`rest ${rest}`]),
    ]).toEqual(sizes);
  });

  it.each([
    // Two latecomers do not just change roles with each other, which would leave both without a second partner.
    ['two who changed roles, and two latecomers', 2, 2, 2],
    ['nine who have had all, and two latecomers', 9, 9, 2],
  ])('of %s at one station are three more', (_what, people, held, late) => {
    const before = classOf(people, 1);
    const done = turnsOf(before).turns.slice(0, held);
    const latecomers = Array.from({ length: late }, (_, at) => `Late ${at + 1}`);
    const state = { ...before, people: [...before.people, ...latecomers], done };
    const { turns } = turnsOf(state);
    expect([turns.length, lackedAfter(state, turns)]).toEqual([3, state.people.map(() => NOTHING_LACKED)]);
  });

  it('keep a trio at its station where that costs nothing', () => {
    const { turns } = turnsOf(classOf(9, 3));
    for (const station of [1, 2, 3]) {
      const people = turns.map(({ groups }) => namesIn(groups[station - 1] ?? never()).sort());
      expect(people).toEqual([people[0], people[0], people[0]]);
    }
  });

  it('are the same for the same class, and are printed a line a station', () => {
    const state = classOf(['Ada', 'Ben', 'Cleo', 'Dan'], 1);
    expect(turnsOf(state)).toEqual(turnsOf(state));
    expect(turnsOf(state).turns.slice(0, 1).flatMap(turnLines)).toEqual([
      'Turn 1, from minute 0',
      'Station 1: chest Ada, airway Ben, observer Cleo',
      'waits: Dan',
    ]);
  });

  it('stay as they were printed while nobody comes or goes, also with latecomers among them', () => {
    fc.assert(
      fc.property(
        fc.record({
          people: fc.integer({ min: 2, max: 36 }),
          stations: fc.integer({ min: 1, max: 12 }),
          heldBefore: fc.integer({ min: 0, max: 6 }),
          late: fc.integer({ min: 0, max: 4 }),
        }),
        ({ people, stations, heldBefore, late }) => {
          const before = classOf(people, stations);
          const latecomers = Array.from({ length: late }, (_, at) => `Late ${at + 1}`);
          const done = turnsOf(before).turns.slice(0, heldBefore);
          const state = { ...before, people: [...before.people, ...latecomers], done };
          const printed = turnsOf(state).turns.map(({ groups }) => groups);
          for (let held = 1; held <= printed.length; held += 1) {
            const now = printed.slice(0, held).map((groups) => ({ groups }));
            const { turns } = turnsOf({ ...state, done: [...done, ...now] });
            expect(turns.map(({ groups }) => groups)).toEqual(printed.slice(held));
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('go on with one extra turn at a time when everyone has had all, and only then', () => {
    const state = classOf(4, 1);
    const { turns } = turnsOf(state);
    expect(turnsToCome(state)).toEqual(turnsOf(state));
    expect(turnsToCome({ ...state, done: turns }).turns).toMatchObject([{ number: 5, isExtra: true }]);
    expect(turnsToCome(classOf(1, 1)).turns).toEqual([]);
  });
});
