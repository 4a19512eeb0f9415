import { expect, it } from 'vitest';
import {
  withNames,
  withoutLastTurn,
  withPresence,
  withTurnHeld,
} from '../../../machines/class/class-changes.ts';
import { type ClassFile, checkClass, newClass, stateOf } from '../../../machines/class/class-file.ts';
import { turnsOf } from '../../../machines/class/turns.ts';

const held = (file: ClassFile) => withTurnHeld(file, turnsOf(stateOf(file)).turns[0]?.groups ?? []);
const listed = ({ people }: ClassFile) =>
  people.map(({ name, isHere }) => `${name}${isHere ? '' : ' (left)'}`);

it('a day: names are pasted, a turn is held, one leaves, one comes late, one comes back', () => {
  const morning = withNames(newClass([], 1), 'Ada\nBen\nCleo\nDan').after;
  const once = held(morning);
  expect(once.done).toEqual([{ groups: [{ station: 1, chest: 'Ada', airway: 'Ben', observer: 'Cleo' }] }]);
  // Ben stands in a turn and is kept; Dan has waited, and is not.
  const left = withPresence(withPresence(once, 'Ben', false), 'Dan', false);
  expect(listed(left)).toEqual(['Ada', 'Ben (left)', 'Cleo']);
  const { after, notices } = withNames(left, 'Eve, Ben');
  expect([listed(after), notices]).toEqual([
    ['Ada', 'Ben (left)', 'Cleo', 'Eve', 'Ben (2)'],
    [{ kind: 'same name', name: 'Ben', as: 'Ben (2)' }],
  ]);
  const back = withPresence(withPresence(after, 'Ben (2)', false), 'Ben', true);
  expect(listed(back)).toEqual(['Ada', 'Ben', 'Cleo', 'Eve']);
  const twice = held(back);
  expect(twice.done).toHaveLength(2);
  expect(withoutLastTurn(twice)).toEqual(back);
  expect(checkClass(twice)).toEqual({ ok: true, value: twice });
});

it('a full class takes nobody more, and says who was left out; when one has left there is a place', () => {
  const full = withNames(newClass([], 12), Array.from({ length: 40 }, (_, at) => `P${at}`).join('\n')).after;
  expect(withNames(full, 'Late')).toEqual({
    after: full,
    notices: [{ kind: 'too many', leftOut: ['Late'] }],
  });
  const left = withPresence(held(full), 'P0', false);
  const again = withNames(left, 'Late').after;
  expect(listed(again).slice(-1)).toEqual(['Late']);
  expect(withPresence(again, 'P0', true)).toBe(again);
});
