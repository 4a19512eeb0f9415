/** What keys are for, by physical code: Shift changes the letter, not the key. */

export const INSTRUCTOR_KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'] as const;
export type InstructorKey = (typeof INSTRUCTOR_KEYS)[number];

/** The instructor's keys are the digits: both the row above the letters and the number pad. */
export function instructorKeyOf(code: string): InstructorKey | null {
  const digit = /^(?:Digit|Numpad)([0-9])$/.exec(code)?.[1];
  return INSTRUCTOR_KEYS.find((key) => key === digit) ?? null;
}

export type KeyRefusal = 'instructor' | 'window' | 'nameless';

/** Why a key cannot be a learner's switch; null when it can. */
export function refusalOf(code: string): KeyRefusal | null {
  if (code === '' || code === 'Unidentified') return 'nameless';
  if (instructorKeyOf(code) !== null) return 'instructor';
  return isWindowKey(code) ? 'window' : null;
}

/** Keys that move about in the window, or change what other keys mean: never a switch, never a third key. */
export function isWindowKey(code: string): boolean {
  return (
    /^(Enter|NumpadEnter|Escape|Tab|ContextMenu|PrintScreen|Pause|Power|Sleep|WakeUp|Fn|FnLock)$/.test(
      code,
    ) ||
    /^(Shift|Control|Alt|Meta|OS)(Left|Right)$/.test(code) ||
    /Lock$/.test(code) ||
    /^F\d{1,2}$/.test(code) ||
    /^(Audio|Media|Browser|Launch|Brightness)/.test(code)
  );
}
