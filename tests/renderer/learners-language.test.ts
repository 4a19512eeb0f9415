import { expect, test } from 'vitest';
import { DrillDriver } from '../../machines/drill-driver.ts';
import type { BodyLine, CallLine } from '../../machines/journal.ts';
import { LEARNERS_WORDS } from '../../machines/words/languages.ts';
import { soonWords } from '../../machines/words/plan-words.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { learnersViewOf } from '../../renderer/app/learners-view.ts';
import { numbered, openLineOf, SETTINGS } from '../support/drills.ts';
import { fakeSound } from '../support/fake-sound.ts';

const { german } = LEARNERS_WORDS;
const PEOPLE = { A: 'Ada', B: 'B$& {name}' };

function viewAfter(lines: readonly BodyLine[], nowMs: number) {
  const driver = new DrillDriver(openLineOf());
  driver.take(numbered(lines));
  return learnersViewOf(driver.snapshot, PEOPLE, nowMs, german);
}
const call = (at: number, name: 'begin' | 'rest' | 'finish' | 'check'): CallLine => ({
  kind: 'call',
  at,
  call: name,
});

test('the learners’ view is in their language, and a name stays as it was typed', () => {
  expect(viewAfter([], 0).quiet).toEqual(['Ada drückt', 'B$& {name} beatmet']);
  expect(viewAfter([call(100, 'begin')], 200).words).toEqual(['Beginn']);
  expect(viewAfter([call(100, 'begin'), call(900, 'rest')], 1000).words).toEqual(['Pause']);
  expect(viewAfter([call(100, 'begin'), call(900, 'finish')], 1000).words).toEqual(['Ende']);
});

test('a plan’s warning is read and said in the learners’ language', () => {
  const calls = [{ call: 'swap' }, { call: 'technique', technique: 'two-finger' }] as const;
  expect(soonWords(calls, german)).toBe('Gleich: Wechsel, Zwei-Finger');
  const { sound, player } = fakeSound();
  const into = { write: () => undefined, note: () => undefined };
  sound.beginDrill(new DrillClock(0, () => 0), SETTINGS.sound, into, 'german');
  sound.warn(calls);
  expect(player.said).toEqual([{ words: 'gleich Wechsel Zwei-Finger', isTakenBack: false }]);
  expect(player.saidIn).toEqual(['de']);
  expect(sound.soundAt(3000, SETTINGS.sound)).toEqual({ kind: 'voice', language: 'de' });
});
