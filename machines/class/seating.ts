import { needOf, type Tallies, type Tally, turnsNeeded } from './tally.ts';
import type { Group } from './turn.ts';

/**
 * What a seat costs, so that the cheapest seating is the turn that is wanted; the sizes say what comes before what (our choice):
 * a role somebody lacks, a partner somebody lacks, roles held equally often, nobody twice with the same partner, who has most
 * still to do, looking and waiting held equally often, who has waited longest, and last of all nobody walks to another station. At a
 * single station no circle of partners is to close while others are outside it: the last two outside would have only each other.
 */
const COST = {
  lackedRole: -10_000,
  lackedPartner: -4000,
  roleHeld: 1000,
  samePartner: 400,
  turnNeeded: -300,
  lookedOrWaited: 60,
  switchHeld: 50,
  waited: -20,
  sameCircle: 200,
  otherStation: 1,
} as const;

/**
 * What a turn costs beside a partner somebody has had, who lacks partners. Dear, it keeps two latecomers from changing roles with each
 * other; free, it leaves more ways to seat a class at its start. Neither is the shorter for every class, so both are tried.
 */
export const TURNS_WASTED = { free: 0, dear: 6000 } as const;

type Seat = { role: 'chest' | 'airway' | 'observer' | 'rest'; group: number };

/**
 * One turn's groups: the cheapest seating that is found by letting any two people change seats for as long as that makes it
 * cheaper. `people` in the order they are seated at first; the same order gives the same turn. `groups`: at most half as many as people.
 */
export function seatTurn(
  people: readonly string[],
  groups: number,
  tallies: Tallies,
  turnWasted: number = TURNS_WASTED.free,
): Group[] {
  const seating = new Seating(people, groups, tallies, turnWasted);
  seating.improve();
  return Array.from({ length: groups }, (_, group) => seating.groupAt(group));
}

/** All chests first, then all airways, observers as far as they go, and the rest. */
function seatsFor(people: number, groups: number): Seat[] {
  return Array.from({ length: people }, (_, index) => {
    const role = (['chest', 'airway', 'observer'] as const)[Math.floor(index / groups)] ?? 'rest';
    return { role, group: role === 'rest' ? index : index % groups };
  });
}

class Seating {
  /** Who sits on each seat, by place in `people`. */
  private readonly sitting: number[];
  private readonly people: readonly string[];
  private readonly seats: readonly Seat[];
  private readonly tallies: readonly Tally[];
  private readonly roleCosts: readonly Record<Seat['role'], number>[];
  private readonly pairCosts: readonly (readonly number[])[];
  /** The seats whose costs hang together: a group's, or one of those who wait. */
  private readonly unitOf: readonly (readonly number[])[];

  constructor(people: readonly string[], groups: number, tallies: Tallies, turnWasted: number) {
    const seats = seatsFor(people.length, groups);
    this.people = people;
    this.seats = seats;
    this.sitting = people.map((_, index) => index);
    this.tallies = people.flatMap((name) => tallies.get(name) ?? []);
    const needs = this.tallies.map((tally, index) => needOf(people[index] ?? '', tally, people));
    this.roleCosts = this.tallies.map((tally, index) => {
      const need = needs[index] ?? { chest: false, airway: false, partners: 0 };
      const either =
        COST.turnNeeded * turnsNeeded(need) +
        COST.switchHeld * (tally.chest + tally.airway) +
        COST.waited * tally.sinceSwitch;
      return {
        chest: either + COST.roleHeld * tally.chest + (need.chest ? COST.lackedRole : 0),
        airway: either + COST.roleHeld * tally.airway + (need.airway ? COST.lackedRole : 0),
        observer: COST.lookedOrWaited * tally.observer,
        rest: COST.lookedOrWaited * tally.rests,
      };
    });
    const circles = groups === 1 ? circlesOf(people, tallies) : [];
    this.pairCosts = this.tallies.map(({ partners }, index) =>
      people.map((other, otherIndex) => {
        const times = partners.get(other) ?? 0;
        const lacking = [needs[index], needs[otherIndex]].filter((need) => (need?.partners ?? 0) > 0).length;
        if (times > 0) return COST.samePartner * times + turnWasted * lacking;
        const isSameCircle = groups === 1 && circles[index] === circles[otherIndex];
        return COST.lackedPartner * lacking + (isSameCircle ? COST.sameCircle : 0);
      }),
    );
    this.unitOf = seats.map(({ role, group }, index) =>
      role === 'rest'
        ? [index]
        : seats.flatMap((seat, at) => (seat.role !== 'rest' && seat.group === group ? [at] : [])),
    );
  }

  improve(): void {
    for (let isBetter = true; isBetter; ) {
      isBetter = false;
      for (let one = 0; one < this.seats.length; one += 1)
        for (let other = 0; other < one; other += 1) if (this.changeIfCheaper(one, other)) isBetter = true;
    }
  }

  groupAt(group: number): Group {
    const at = (role: Seat['role']) => {
      const seat = this.seats.findIndex((one) => one.role === role && one.group === group);
      return this.people[this.sitting[seat] ?? -1] ?? null;
    };
    return {
      station: group + 1,
      chest: at('chest') ?? '',
      airway: at('airway') ?? '',
      observer: at('observer'),
    };
  }

  private changeIfCheaper(one: number, other: number): boolean {
    if (this.seats[one]?.role === 'rest' && this.seats[other]?.role === 'rest') return false;
    const before = this.costAround(one, other);
    this.change(one, other);
    if (this.costAround(one, other) < before) return true;
    this.change(one, other);
    return false;
  }

  private change(one: number, other: number): void {
    const sitting = this.sitting[one] ?? 0;
    this.sitting[one] = this.sitting[other] ?? 0;
    this.sitting[other] = sitting;
  }

  private costAround(one: number, other: number): number {
    const isSameUnit = this.unitOf[one]?.includes(other) === true;
    return this.unitCost(one) + (isSameUnit ? 0 : this.unitCost(other));
  }

  /** The cost of the group that a seat is in, or of the waiting seat. */
  private unitCost(seat: number): number {
    let cost = 0;
    let chest = -1;
    let airway = -1;
    for (const at of this.unitOf[seat] ?? []) {
      const { role, group } = this.seats[at] ?? { role: 'rest', group: 0 };
      const person = this.sitting[at] ?? 0;
      cost += this.roleCosts[person]?.[role] ?? 0;
      const station = this.tallies[person]?.station ?? null;
      if (role !== 'rest' && station !== null && station !== group + 1) cost += COST.otherStation;
      if (role === 'chest') chest = person;
      if (role === 'airway') airway = person;
    }
    return chest === -1 ? cost : cost + (this.pairCosts[chest]?.[airway] ?? 0);
  }
}

/** Who hangs together by partners, and partners' partners: the same number for the same circle. */
function circlesOf(people: readonly string[], tallies: Tallies): number[] {
  const circles = new Map<string, number>();
  const join = (name: string, circle: number) => {
    if (circles.has(name)) return;
    circles.set(name, circle);
    for (const partner of tallies.get(name)?.partners.keys() ?? []) join(partner, circle);
  };
  for (const [index, name] of people.entries()) join(name, index);
  return people.map((name) => circles.get(name) ?? -1);
}
