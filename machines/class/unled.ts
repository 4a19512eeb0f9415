import { PERSONS, type Rig } from '../journal.ts';
import { type DrillEvidence, lengthOfRuns, runsOfRole } from '../standard/evidence.ts';
import type { Ms } from '../units.ts';
import { isSameName } from './names.ts';

/** How long somebody compressed without a count in one drill, at the guideline's tempo, in complete cycles. */
export type UnledFact = { name: string; rig: Rig; compressorMs: Ms };

/** Both people of a drill; 0 ms for who never compressed unled. */
export function unledFactsOf(evidence: DrillEvidence): UnledFact[] {
  return PERSONS.map((person) => ({
    name: evidence.people[person],
    rig: evidence.rig,
    compressorMs: lengthOfRuns(runsOfRole(evidence, person, 'compressor')),
  }));
}

/** What there is of one person in all drills; a manikin's and a rhythm rig's time are never added up. */
export type UnledOfPerson = { name: string; manikinMs: Ms; rhythmMs: Ms };

/** Everybody of the class, in its order, with how long they have compressed unled. Drills know people by the names they are given. */
export function unledOf(people: readonly string[], facts: readonly UnledFact[]): UnledOfPerson[] {
  const sum = (name: string, rig: Rig) =>
    facts
      .filter((fact) => fact.rig === rig && isSameName(fact.name, name))
      .reduce((total, fact) => total + fact.compressorMs, 0);
  return people.map((name) => ({
    name,
    manikinMs: sum(name, 'manikin'),
    rhythmMs: sum(name, 'rhythm'),
  }));
}

/** Who has not yet compressed unled on a manikin: not one whole cycle. */
export function notYetUnled(people: readonly string[], facts: readonly UnledFact[]): UnledOfPerson[] {
  return unledOf(people, facts).filter(({ manikinMs }) => manikinMs === 0);
}
