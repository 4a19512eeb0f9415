import type { SwitchBinding } from '../../electron/contract.ts';
import {
  INSTRUCTOR_KEYS,
  type InstructorKey,
  type InstructorKeys,
  KEYS_AS_AT_FIRST,
} from '../../machines/instructor-keys.ts';

/** What keys are for, by physical code: Shift changes the letter, not the key. */

/** Where the instructor's keys are at first: in the row above the letters. */
const ROW: Record<InstructorKey, string> = {
  '1': 'Digit1',
  '2': 'Digit2',
  '3': 'Digit3',
  '4': 'Digit4',
  '5': 'Digit5',
  '6': 'Digit6',
  '7': 'Digit7',
  '8': 'Digit8',
  '9': 'Digit9',
  '0': 'Digit0',
  '-': 'Minus',
  '=': 'Equal',
  '*': 'Backquote',
  '/': 'Backspace',
};
/** On the number pad, whatever was chosen: its digits, and the four above and beside them. */
const PAD: Record<InstructorKey, string> = {
  '1': 'Numpad1',
  '2': 'Numpad2',
  '3': 'Numpad3',
  '4': 'Numpad4',
  '5': 'Numpad5',
  '6': 'Numpad6',
  '7': 'Numpad7',
  '8': 'Numpad8',
  '9': 'Numpad9',
  '0': 'Numpad0',
  '-': 'NumpadSubtract',
  '=': 'NumpadAdd',
  '*': 'NumpadMultiply',
  '/': 'NumpadDivide',
};

/** Which of the instructor's keys this is: one of the row or the one chosen in its place, or the number pad's. */
export function instructorKeyOf(code: string, chosen: InstructorKeys): InstructorKey | null {
  return INSTRUCTOR_KEYS.find((key) => PAD[key] === code || codeFor(key, chosen) === code) ?? null;
}

/** What a key is called on the screen: digits are digits, the others as this keyboard prints them. */
export function instructorKeyName(
  key: InstructorKey,
  nameOf: (code: string) => string,
  chosen: InstructorKeys,
): string {
  const code = codeFor(key, chosen);
  if (code === ROW['/']) return '⌫';
  return /^Digit(\d)$/.exec(code)?.[1] ?? nameOf(code);
}

/** The row and the number pad stay the instructor's where another key was chosen: a heart rate is typed on them. */
export function isInstructorsKey(code: string, chosen: InstructorKeys): boolean {
  return instructorKeyOf(code, chosen) !== null || instructorKeyOf(code, KEYS_AS_AT_FIRST) !== null;
}

export type ChoiceRefusal = 'window' | 'nameless' | 'pad' | 'switch' | 'call';

/** Why a key cannot be chosen for one of the instructor's; null when it can. `switches`: the learners' own. */
export function choiceRefusalOf(
  code: string,
  key: InstructorKey,
  chosen: InstructorKeys,
  switches: readonly SwitchBinding[],
): ChoiceRefusal | null {
  if (isNameless(code)) return 'nameless';
  if (isWindowKey(code) || isPageKey(code)) return 'window';
  if (Object.values(PAD).includes(code)) return 'pad';
  if (switches.some((one) => one.kind === 'key' && one.code === code)) return 'switch';
  const isAnothers = INSTRUCTOR_KEYS.some((other) => other !== key && codeFor(other, chosen) === code);
  return isAnothers ? 'call' : null;
}

export function withKeyChosen(chosen: InstructorKeys, key: InstructorKey, code: string): InstructorKeys {
  const { [key]: _before, ...others } = chosen;
  return code === ROW[key] ? others : { ...others, [key]: code };
}

function codeFor(key: InstructorKey, chosen: InstructorKeys): string {
  return chosen[key] ?? ROW[key];
}

/** Above the digits, and no learner's switch can be one: five ticks, their next page, and who ticks. */
export const TICK_KEYS = ['F1', 'F2', 'F3', 'F4', 'F5', 'F6', 'F7'] as const;
export type TickKey = (typeof TICK_KEYS)[number];

export function tickKeyOf(code: string): TickKey | null {
  return TICK_KEYS.find((key) => key === code) ?? null;
}

export type KeyRefusal = 'instructor' | 'window' | 'nameless';

/** Why a key cannot be a learner's switch; null when it can. */
export function refusalOf(code: string, chosen: InstructorKeys): KeyRefusal | null {
  if (isNameless(code)) return 'nameless';
  if (isInstructorsKey(code, chosen)) return 'instructor';
  return isWindowKey(code) ? 'window' : null;
}

function isNameless(code: string): boolean {
  return code === '' || code === 'Unidentified';
}

/** Keys that work a button or move the page: a learner's switch may be one, a call may not. */
function isPageKey(code: string): boolean {
  return /^(Space|Arrow(Up|Down|Left|Right)|Page(Up|Down)|Home|End)$/.test(code);
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
