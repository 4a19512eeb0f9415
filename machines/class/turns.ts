import { seatTurn, TURNS_WASTED } from './seating.ts';
import { afterTurn, needOf, type Tallies, talliesOf, turnsNeeded } from './tally.ts';
import { type DoneTurn, type Group, stationsUsed } from './turn.ts';

export type ClassState = {
  /** Who is here now, by names that are told apart; a latecomer is one name more, a leaver one less. */
  people: readonly string[];
  stations: number;
  /** Turns that were held, in order. Who is in them and not here any more has left; they stay somebody's partners. */
  done: readonly DoneTurn[];
  turnMinutes: number;
  /** Turns after the last that is needed: 0 when not given. */
  extraTurns?: number;
};

export type PlannedTurn = {
  /** From 1, with those that were held. */
  number: number;
  /** Minutes from the next turn's begin. */
  startMinutes: number;
  groups: readonly Group[];
  rest: readonly string[];
  /** True when everyone has had all they are to have before it. */
  isExtra: boolean;
};

/** What a class is too small for. */
export type ClassLimit = 'nobody' | 'one person' | 'two people have one partner each' | null;

export type ClassTurns = {
  turns: readonly PlannedTurn[];
  turnMinutes: number;
  limit: ClassLimit;
  stations: { used: number; empty: number };
};

/** Seatings are tried from so many orders of the people, and the shortest plan is kept (our choice: a few ms for forty people). */
const ORDERS = 8;

/**
 * The turns that are still to be held, so that everyone here holds both roles and has two partners at least, in as few turns as are
 * found, and then fair turns more. Nothing is left to chance: the same class has the same turns.
 */
export function turnsOf({ people, stations, done, turnMinutes, extraTurns = 0 }: ClassState): ClassTurns {
  const groups = stationsUsed(people.length, stations);
  const tallies = talliesOf(people, done);
  const needed = groups === 0 ? [] : shortest(people, groups, tallies);
  const turns: PlannedTurn[] = [];
  let after = needed.reduce(afterTurn, tallies);
  const extra = Array.from({ length: groups === 0 ? 0 : extraTurns }, () => {
    const turn = { groups: seatTurn(people, groups, after) };
    after = afterTurn(after, turn);
    return turn;
  });
  for (const [index, turn] of [...needed, ...extra].entries()) {
    const placed = new Set(turn.groups.flatMap(({ chest, airway, observer }) => [chest, airway, observer]));
    turns.push({
      number: done.length + index + 1,
      startMinutes: index * turnMinutes,
      groups: turn.groups,
      rest: people.filter((name) => !placed.has(name)),
      isExtra: index >= needed.length,
    });
  }
  return { turns, turnMinutes, limit: limitOf(people), stations: { used: groups, empty: stations - groups } };
}

/** The same, and one turn more when everyone has all they are to have: there is always a next one, as long as two people are here. */
export function turnsToCome(state: ClassState): ClassTurns {
  const needed = turnsOf(state);
  return needed.turns.length > 0 ? needed : turnsOf({ ...state, extraTurns: 1 });
}

/** No plan can be shorter than this, in turns: so many seats are lacked, of each role and in all, and nobody sits on two at once. */
export function leastTurns(people: readonly string[], groups: number, tallies: Tallies): number {
  const needs = needsOf(people, tallies);
  const seats = (role: 'chest' | 'airway') => Math.ceil(needs.filter((need) => need[role]).length / groups);
  const inAll = needs.reduce((sum, need) => sum + turnsNeeded(need), 0);
  return Math.max(
    seats('chest'),
    seats('airway'),
    Math.ceil(inAll / (2 * groups)),
    ...needs.map(turnsNeeded),
  );
}

function shortest(people: readonly string[], groups: number, tallies: Tallies): DoneTurn[] {
  const least = leastTurns(people, groups, tallies);
  let best: DoneTurn[] | null = null;
  for (const turnWasted of Object.values(TURNS_WASTED))
    for (let order = 0; order < ORDERS; order += 1) {
      const from = Math.floor((order * people.length) / ORDERS);
      const seatedFrom = [...people.slice(from), ...people.slice(0, from)];
      const turns = untilAllHave(seatedFrom, groups, tallies, turnWasted);
      if (best === null || turns.length < best.length) best = turns;
      if (best.length <= least) return best;
    }
  return best ?? [];
}

function untilAllHave(
  people: readonly string[],
  groups: number,
  tallies: Tallies,
  turnWasted: number,
): DoneTurn[] {
  const turns: DoneTurn[] = [];
  let after = tallies;
  // Two people change roles in two turns; each turn more gives somebody what they lack, and nobody lacks more than four things.
  for (let left = 4 * people.length; left > 0 && isLacking(people, after); left -= 1) {
    const turn = { groups: seatTurn(people, groups, after, turnWasted) };
    after = afterTurn(after, turn);
    turns.push(turn);
  }
  return turns;
}

function isLacking(people: readonly string[], tallies: Tallies): boolean {
  return needsOf(people, tallies).some((need) => turnsNeeded(need) > 0);
}

function needsOf(people: readonly string[], tallies: Tallies) {
  return people.flatMap((name) => {
    const tally = tallies.get(name);
    return tally === undefined ? [] : [needOf(name, tally, people)];
  });
}

function limitOf(people: readonly string[]): ClassLimit {
  if (people.length === 0) return 'nobody';
  if (people.length === 1) return 'one person';
  return people.length === 2 ? 'two people have one partner each' : null;
}
