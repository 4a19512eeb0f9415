import { personKey, SOMEONE } from '../ledger/person-name.ts';
import { type ClassFile, MOST_NAMES } from './class-file.ts';
import { isSameName, MOST_NAME_CHARACTERS, MOST_PEOPLE, type NameNotice, readNames, tidy } from './names.ts';
import type { Group } from './turn.ts';

/** What can happen to a class on its day: each gives the class as it is then, and leaves the turns that were held as they were. */

/** Names pasted at the start, or latecomers: all of them are here. */
export function withNames(before: ClassFile, text: string): { after: ClassFile; notices: NameNotice[] } {
  const here = before.people.filter(({ isHere }) => isHere).length;
  const places = Math.min(MOST_PEOPLE - here, MOST_NAMES - before.people.length);
  const taken = before.people.map(({ name }) => name);
  const { names, notices } = readNames(text, taken, places);
  const people = [...before.people, ...names.map((name) => ({ name, isHere: true }))];
  return { after: { ...before, people }, notices };
}

/**
 * Somebody leaves, or is here again. Who leaves without a place in any turn is taken out of the list. A name that is not in the
 * class, or a return into a full one, changes nothing.
 */
export function withPresence(before: ClassFile, name: string, isHere: boolean): ClassFile {
  const here = before.people.filter((person) => person.isHere && person.name !== name).length;
  if (isHere && here >= MOST_PEOPLE) return before;
  const hasTurn = before.done.some(({ groups }) =>
    groups.some(({ chest, airway, observer }) => [chest, airway, observer].includes(name)),
  );
  const people = before.people.map((person) => (person.name === name ? { name, isHere } : person));
  return {
    ...before,
    people: isHere || hasTurn ? people : people.filter((person) => person.name !== name),
  };
}

/** Those who can be here: who was removed is in the turns that were held as "someone", and comes to no other. */
export function personsOf({ people }: ClassFile): ClassFile['people'] {
  return people.filter(({ name, isHere }) => isHere || !NOBODY.test(name));
}

const NOBODY = new RegExp(`^${SOMEONE}(?: \\d+)?$`);

/** A turn is over, as it really was. */
export function withTurnHeld(before: ClassFile, groups: readonly Group[]): ClassFile {
  return { ...before, done: [...before.done, { groups: groups.map((group) => ({ ...group })) }] };
}

/** The last turn was not held after all. */
export function withoutLastTurn(before: ClassFile): ClassFile {
  return { ...before, done: before.done.slice(0, -1) };
}

/** The class with a name put right, in its turns too. The same class where nobody has it, or somebody else has the right one. */
export function withPersonRenamed(before: ClassFile, from: string, to: string): ClassFile {
  const right = tidy(to);
  const wrong = before.people.find(({ name }) => isSameName(name, from))?.name;
  const isTaken = before.people.some(({ name }) => name !== wrong && isSameName(name, right));
  if (wrong === undefined || isTaken || right === '' || right.length > MOST_NAME_CHARACTERS) return before;
  const put = (name: string) => (name === wrong ? right : name);
  return {
    ...before,
    people: before.people.map(({ name, isHere }) => ({ name: put(name), isHere })),
    done: before.done.map(({ groups }) => ({
      groups: groups.map(({ chest, airway, observer, ...group }) => ({
        ...group,
        chest: put(chest),
        airway: put(airway),
        observer: observer === null ? null : put(observer),
      })),
    })),
  };
}

/**
 * The class without a person who is to be forgotten: gone from the names, and "someone" in the turns that were held. The same
 * class where they are not in it.
 */
export function withoutPerson(before: ClassFile, name: string): ClassFile {
  const key = personKey(name);
  const theirs = before.people.filter((person) => key !== null && personKey(person.name) === key);
  if (theirs.length === 0) return before;
  const others = before.people.filter((person) => !theirs.includes(person));
  const inTurns = before.done.flatMap(({ groups }) =>
    groups.flatMap(({ chest, airway, observer }) => [chest, airway, observer]),
  );
  const nobodies = new Map<string, string>();
  for (const { name: one } of theirs.filter((person) => inTurns.includes(person.name))) {
    const taken = [...others.map((person) => person.name), ...nobodies.values()];
    let nobody: string = SOMEONE;
    for (let number = 2; taken.includes(nobody); number += 1) nobody = `${SOMEONE} ${number}`;
    nobodies.set(one, nobody);
  }
  const unnamed = (one: string) => nobodies.get(one) ?? one;
  return {
    ...before,
    people: [...others, ...[...nobodies.values()].map((nobody) => ({ name: nobody, isHere: false }))],
    done: before.done.map(({ groups }) => ({
      groups: groups.map(({ chest, airway, observer, ...group }) => ({
        ...group,
        chest: unnamed(chest),
        airway: unnamed(airway),
        observer: observer === null ? null : unnamed(observer),
      })),
    })),
  };
}
