/** What keys are for, by physical code: Shift changes the letter, not the key. */

export const INSTRUCTOR_KEYS = [
  '1',
  '2',
  '3',
  '4',
  '5',
  '6',
  '7',
  '8',
  '9',
  '0',
  '-',
  '=',
  '*',
  '/',
] as const;
export type InstructorKey = (typeof INSTRUCTOR_KEYS)[number];

/** Those on either side of the digits, by physical code; on the number pad the four above and beside them. */
const BESIDE_DIGITS: Record<string, InstructorKey> = {
  Minus: '-',
  NumpadSubtract: '-',
  Equal: '=',
  NumpadAdd: '=',
  Backquote: '*',
  NumpadMultiply: '*',
  Backspace: '/',
  NumpadDivide: '/',
};

/** What a key is called on the screen: digits are digits, those beside them as this keyboard prints them. */
export function instructorKeyName(key: InstructorKey, nameOf: (code: string) => string): string {
  if (key === '-') return nameOf('Minus');
  if (key === '=') return nameOf('Equal');
  if (key === '*') return nameOf('Backquote');
  return key === '/' ? '⌫' : key;
}

/** The instructor's keys: the digits and those beside them, in the row above the letters and on the number pad. */
export function instructorKeyOf(code: string): InstructorKey | null {
  const beside = BESIDE_DIGITS[code];
  if (beside !== undefined) return beside;
  const digit = /^(?:Digit|Numpad)([0-9])$/.exec(code)?.[1];
  return INSTRUCTOR_KEYS.find((key) => key === digit) ?? null;
}

/** Above the digits, and no learner's switch can be one: five ticks, their next page, and who ticks. */
export const TICK_KEYS = ['F1', 'F2', 'F3', 'F4', 'F5', 'F6', 'F7'] as const;
export type TickKey = (typeof TICK_KEYS)[number];

export function tickKeyOf(code: string): TickKey | null {
  return TICK_KEYS.find((key) => key === code) ?? null;
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
