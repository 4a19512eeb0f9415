import type { InstructorKey } from '../instructor-keys.ts';

/** Words of Set-up's part for the instructor's keys. */
export const INSTRUCTOR_KEY_WORDS = {
  title: 'Instructor’s keys',
  note: 'The number pad calls as well, also a separate one, whatever is chosen here. While a heart rate is entered, the digits and the keys beside them are for that.',
  change: 'Change',
  pressNow: 'Press its key now, or Escape',
  reset: 'All as at first',
} as const;

/** What each key calls; what it does at a moment is said on the Floor. */
export const INSTRUCTOR_KEY_CALLS: Record<InstructorKey, string> = {
  '1': 'Begin',
  '2': 'Swap',
  '3': 'Taken',
  '4': 'Technique',
  '5': 'Stance',
  '6': 'Heart-rate check, or begin with ventilation',
  '7': 'Rest and resume',
  '8': 'Undo',
  '9': 'Finish',
  '0': 'The other view',
  '-': 'Count',
  '=': 'Tempo',
  '*': 'Heart rate',
  '/': 'Airway',
};

/** Why a key cannot be chosen. */
export const INSTRUCTOR_KEY_REFUSALS = {
  window: 'The window needs that key for itself. Choose another.',
  nameless: 'The keyboard does not say which key that is. Choose another.',
  pad: 'The number pad calls as it is printed, and stays so. Choose another.',
  switch: 'That is a learner’s switch. Choose another.',
  call: 'That is another call’s key. Choose another, or change that one first.',
} as const;
