/**
 * The instructor's keys, each by what it is called at first: the digits, and those beside them in the row above the
 * letters. Which key of the keyboard that is can be chosen.
 */
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
/** Keys chosen in place of those of the row, by physical code; one that is not named is as at first. */
export type InstructorKeys = { readonly [K in InstructorKey]?: string };
export const KEYS_AS_AT_FIRST: InstructorKeys = {};
