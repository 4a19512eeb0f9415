import { describe, expect, it } from 'vitest';
import {
  type ClassFile,
  formatClass,
  newClass,
  parseClass,
  stateOf,
} from '../../../machines/class/class-file.ts';
import { turnsOf } from '../../../machines/class/turns.ts';
import { fileProblemWords } from '../../../machines/json-file.ts';

const PEOPLE = ['Ada', 'Ben', 'Cleo', 'Zoë'];
function heldOnce(): ClassFile {
  const fresh = newClass(PEOPLE, 2);
  const done = turnsOf(stateOf(fresh)).turns.slice(0, 1);
  return { ...fresh, done: done.map(({ groups }) => ({ groups: [...groups] })) };
}
function refusalOf(changes: Record<string, unknown>): string {
  const parsed = parseClass(JSON.stringify({ ...heldOnce(), ...changes }));
  return parsed.ok ? 'taken' : fileProblemWords(parsed.problem);
}

describe('a class file', () => {
  it('is read back as it was written, and the turns go on from it', () => {
    const file = heldOnce();
    expect(parseClass(formatClass(file))).toEqual({ ok: true, value: file });
    const [next] = turnsOf(stateOf(file)).turns;
    expect(next?.number).toBe(2);
  });

  it('plans for those who are here', () => {
    const file = heldOnce();
    const people = file.people.map((person) => ({ ...person, isHere: person.name !== 'Ben' }));
    expect(stateOf({ ...file, people }).people).toEqual(['Ada', 'Cleo', 'Zoë']);
  });

  it.each([
    [{ version: 2 }, 'line 1: version is 2: this class was made by a newer release'],
    [{ kind: 'antiphon-plan' }, 'line 1: kind is not antiphon-class'],
    [{ stations: 13 }, 'line 1: stations is not 1 to 12, whole'],
    [{ turnMinutes: 0 }, 'line 1: turnMinutes is not 1 to 60, whole'],
    [{ colour: 'red' }, 'line 1: colour is not a field of a class'],
    [{ people: [{ name: ' Ada', isHere: true }] }, 'line 1: people.0.name is not a name as it is shown'],
    [
      { people: [...newClass(PEOPLE, 1).people, { name: 'Ada', isHere: false }] },
      'line 1: people has a name twice',
    ],
    [
      { people: newClass(['Ada', 'Ben', 'Cleo'], 1).people },
      'line 1: done names somebody who is not among the people',
    ],
    [
      { done: [{ groups: [{ station: 1, chest: 'Ada', airway: 'Ada', observer: null }] }] },
      'line 1: done.0.groups names somebody twice at once',
    ],
    [
      {
        done: [
          {
            groups: [
              { station: 1, chest: 'Ada', airway: 'Ben', observer: null },
              { station: 1, chest: 'Cleo', airway: 'Zoë', observer: null },
            ],
          },
        ],
      },
      'line 1: done.0.groups has a station twice',
    ],
  ])('with %j is refused with its reason', (changes, words) => {
    expect(refusalOf(changes)).toBe(words);
  });
});
