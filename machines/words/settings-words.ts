import { INSTRUCTOR_KEYS, type InstructorKeys } from '../instructor-keys.ts';
import type { RigCheck, WeaningRule } from '../journal.ts';
import { formatNumber } from './format.ts';
import { INSTRUCTOR_KEY_CALLS } from './instructor-keys.ts';
import { SOUND_WORDS } from './screen-sound.ts';

/** Words of the page that lists every setting. */
export const SETTINGS_WORDS = {
  open: 'All settings and their defaults',
  title: 'All settings',
  intro:
    'What this station remembers from drill to drill, and what each was at first. Defaults are tool defaults, not the guideline’s.',
  setting: 'Setting',
  present: 'Now',
  first: 'At first',
  where: 'Where it is changed',
  reset: 'As at first',
  resetOne: (label: string) => `As at first: ${label}`,
  resetAll: 'All as at first',
  resetNote: 'Names, switches, what was checked of them and when the cautions were read stay as they are.',
  asAtFirst: 'as at first',
  back: 'Back to Set-up',
  none: 'none',
  never: 'never',
  yes: 'yes',
  no: 'no',
  days: (days: number) => `${days} ${days === 1 ? 'day' : 'days'}`,
} as const;

/** Settings that no other page has a word for. */
export const SETTING_LABELS = {
  boundAt: 'Switches last pressed to be bound',
  rigCheck: 'Rig check',
  switchCheck: 'Switches measured',
  cautionsReadAt: 'Cautions read',
  dueAfterDays: 'Due again after',
} as const;

/** Where each is changed, in Set-up's own words. */
export const SETTING_PLACES = {
  names: 'Set-up: Who practises',
  switches: 'Set-up: Switches',
  rigCheck: 'Set-up: Check the rig',
  switchCheck: 'Set-up: Measure the switches',
  instructorKeys: 'Set-up: Instructor’s keys',
  rig: 'Set-up: Rig',
  binding: 'Set-up: A switch belongs to (rhythm rig)',
  arrangement: 'Set-up, and by a call on the Floor; a plan says its own',
  guideline: 'Set-up: Guideline',
  tolerance: 'Set-up: Tolerance; the slow tempo sets the wider one',
  count: 'Set-up, the column of the count and its sound',
  weaning: 'Set-up, below a weaned count',
  plan: 'Set-up: Plan',
  ledger: 'Ledger: a person’s page',
  cautions: 'By reading them, once',
} as const;

export const RIG_CHECK_RESULTS: Record<RigCheck['outcome'], string> = {
  passed: 'passed',
  failed: 'not passed',
  skipped: 'skipped',
  'not-done': 'not done',
};

/** "silent after 8 of 10, back after 3 of 5, 15 s at least". */
export function weaningWords({ silentAfter, returnsAfter, leastMs }: WeaningRule): string {
  const silent = `silent after ${silentAfter.cycles} of ${silentAfter.of}`;
  const back = `back after ${returnsAfter.cycles} of ${returnsAfter.of}`;
  return `${silent}, ${back}, ${formatNumber(leastMs / 1000, 0)} s at least`;
}

/** "on, 80 %, middle low". */
export function soundWords({
  isOn,
  volume,
  pitch,
}: {
  isOn: boolean;
  volume: number;
  pitch: number;
}): string {
  const heard = isOn ? 'heard and shown' : 'only shown';
  return `${heard}, volume ${Math.round(volume * 100)} %, tick ${SOUND_WORDS.pitchOf(pitch)}`;
}

/** "Swap: Q, Undo: W", or that none was changed. */
export function changedKeysWords(keys: InstructorKeys, nameOf: (code: string) => string): string {
  const changed = INSTRUCTOR_KEYS.flatMap((key) => {
    const code = keys[key];
    return code === undefined ? [] : [`${INSTRUCTOR_KEY_CALLS[key]}: ${nameOf(code)}`];
  });
  return changed.length === 0 ? SETTINGS_WORDS.asAtFirst : changed.join('; ');
}
