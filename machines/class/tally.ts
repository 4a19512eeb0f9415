import type { DoneTurn, Group } from './turn.ts';

/** What one person has held so far, in turns. */
export type Tally = {
  chest: number;
  airway: number;
  observer: number;
  /** Turns in which they had no place: they waited, or were not there. */
  rests: number;
  /** Turns with each partner, chest and airway beside each other, whether still here or not. */
  partners: ReadonlyMap<string, number>;
  /** Turns held since they last had a switch, or since the first of all. */
  sinceSwitch: number;
  /** Where they were last; null: nowhere yet. */
  station: number | null;
};
export type Tallies = ReadonlyMap<string, Tally>;

const NOTHING: Tally = {
  chest: 0,
  airway: 0,
  observer: 0,
  rests: 0,
  partners: new Map(),
  sinceSwitch: 0,
  station: null,
};

/** What each of these people has held in the turns that were. */
export function talliesOf(people: readonly string[], done: readonly DoneTurn[]): Tallies {
  let tallies: Tallies = new Map(people.map((name) => [name, NOTHING]));
  for (const turn of done) tallies = afterTurn(tallies, turn);
  return tallies;
}

/** The tallies once a turn more is over. */
export function afterTurn(tallies: Tallies, { groups }: DoneTurn): Tallies {
  return new Map([...tallies].map(([name, tally]) => [name, withTurn(name, tally, groups)]));
}

/** What somebody is still to have: each role once, and so many more partners. */
export type Need = { chest: boolean; airway: boolean; partners: number };

/**
 * What a person still lacks of both roles and two partners. Where there are not two others, and were none before, one partner
 * is all there can be.
 */
export function needOf(name: string, tally: Tally, people: readonly string[]): Need {
  const possible = new Set([...tally.partners.keys(), ...people.filter((other) => other !== name)]);
  return {
    chest: tally.chest === 0,
    airway: tally.airway === 0,
    partners: Math.max(0, Math.min(2, possible.size) - tally.partners.size),
  };
}

/** Turns with a switch that somebody needs at the least. */
export function turnsNeeded({ chest, airway, partners }: Need): number {
  return Math.max(Number(chest) + Number(airway), partners);
}

function withTurn(name: string, tally: Tally, groups: readonly Group[]): Tally {
  const group = groups.find((one) => one.chest === name || one.airway === name || one.observer === name);
  if (group === undefined) return { ...tally, rests: tally.rests + 1, sinceSwitch: tally.sinceSwitch + 1 };
  if (group.observer === name)
    return {
      ...tally,
      observer: tally.observer + 1,
      sinceSwitch: tally.sinceSwitch + 1,
      station: group.station,
    };
  const partner = group.chest === name ? group.airway : group.chest;
  return {
    ...tally,
    chest: tally.chest + Number(group.chest === name),
    airway: tally.airway + Number(group.airway === name),
    partners: new Map(tally.partners).set(partner, (tally.partners.get(partner) ?? 0) + 1),
    sinceSwitch: 0,
    station: group.station,
  };
}
