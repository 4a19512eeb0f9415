import * as v from 'valibot';
import {
  type CheckedValue,
  checkValue,
  type FileForm,
  formatFile,
  type ParsedFile,
  parseFile,
} from '../json-file.ts';
import { MOST_NAME_CHARACTERS, MOST_PEOPLE, tidy } from './names.ts';
import { MOST_STATIONS, TURN_MINUTES } from './turn.ts';
import type { ClassState } from './turns.ts';

/** The day's class as the station keeps it: version 1. The turns still to come are planned from it, and are not in it. */
export const CLASS_VERSION = 1;
const CLASS_KIND = 'antiphon-class';
/** Tool default: more than a day of them, and still one request of a window. */
const MOST_TURNS = 100;
/** A day's names come and go; those who left are kept as long as they stand in a turn. */
export const MOST_NAMES = 2 * MOST_PEOPLE;

const whole = (low: number, high: number) =>
  v.pipe(
    v.number('is not a number'),
    v.check((n: number) => Number.isInteger(n) && n >= low && n <= high, `is not ${low} to ${high}, whole`),
  );
const name = v.pipe(
  v.string('is not a name'),
  v.maxLength(MOST_NAME_CHARACTERS, `is longer than ${MOST_NAME_CHARACTERS} characters`),
  v.check((text) => text !== '' && tidy(text) === text, 'is not a name as it is shown'),
);
const groupSchema = v.object(
  { station: whole(1, MOST_STATIONS), chest: name, airway: name, observer: v.nullable(name) },
  'is not a group',
);
const turnSchema = v.object(
  {
    groups: v.pipe(
      v.array(groupSchema, 'is not a list of groups'),
      v.maxLength(MOST_STATIONS, `is longer than ${MOST_STATIONS} groups`),
      v.check((groups) => areDifferent(groups.flatMap(namesIn)), 'names somebody twice at once'),
      v.check((groups) => areDifferent(groups.map(({ station }) => String(station))), 'has a station twice'),
    ),
  },
  'is not a turn',
);
const classSchema = v.pipe(
  v.object({
    kind: v.literal(CLASS_KIND, `is not ${CLASS_KIND}`),
    version: v.literal(CLASS_VERSION, `is not ${CLASS_VERSION}`),
    /** In the order they were named. Names are told apart; `isHere` false: left, or not here yet. */
    people: v.pipe(
      v.array(
        v.object({ name, isHere: v.boolean('is not true or false') }, 'is not a person'),
        'is not a list of people',
      ),
      v.maxLength(MOST_NAMES, `is longer than ${MOST_NAMES} people`),
      v.check((people) => areDifferent(people.map((person) => person.name)), 'has a name twice'),
      v.check(
        (people) => people.filter(({ isHere }) => isHere).length <= MOST_PEOPLE,
        `has more than ${MOST_PEOPLE} people here`,
      ),
    ),
    stations: whole(1, MOST_STATIONS),
    turnMinutes: whole(TURN_MINUTES.least, TURN_MINUTES.most),
    /** The turns that were held, as they were. */
    done: v.pipe(
      v.array(turnSchema, 'is not a list of turns'),
      v.maxLength(MOST_TURNS, `is longer than ${MOST_TURNS} turns`),
    ),
  }),
  v.forward(
    v.partialCheck(
      [['people'], ['done']],
      ({ people, done }) => {
        const known = new Set(people.map((person) => person.name));
        return done.every(({ groups }) => groups.flatMap(namesIn).every((one) => known.has(one)));
      },
      'names somebody who is not among the people',
    ),
    ['done'],
  ),
);

export type ClassFile = v.InferOutput<typeof classSchema>;

const CLASS_FORM: FileForm<ClassFile> = {
  noun: 'class',
  version: CLASS_VERSION,
  schema: classSchema,
  longest: 1_000_000,
};

/** A class that has just begun. */
export function newClass(people: readonly string[], stations: number): ClassFile {
  return {
    kind: CLASS_KIND,
    version: CLASS_VERSION,
    people: people.map((one) => ({ name: one, isHere: true })),
    stations,
    turnMinutes: TURN_MINUTES.usual,
    done: [],
  };
}

/** What the turns still to come are planned from. */
export function stateOf({ people, stations, turnMinutes, done }: ClassFile): ClassState {
  const here = people.filter(({ isHere }) => isHere).map((person) => person.name);
  return { people: here, stations, turnMinutes, done };
}

/** Reads a class file's text; never throws. */
export function parseClass(text: string): ParsedFile<ClassFile> {
  return parseFile(text, CLASS_FORM);
}

/** Checks a class that is already a value; never throws. */
export function checkClass(value: unknown): CheckedValue<ClassFile> {
  return checkValue(value, CLASS_FORM);
}

export function formatClass(wanted: ClassFile): string {
  return formatFile(wanted);
}

function namesIn({
  chest,
  airway,
  observer,
}: {
  chest: string;
  airway: string;
  observer: string | null;
}): string[] {
  return observer === null ? [chest, airway] : [chest, airway, observer];
}

function areDifferent(texts: readonly string[]): boolean {
  return new Set(texts).size === texts.length;
}
