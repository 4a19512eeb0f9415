import { LEG_SECONDS, type LegCompressor, MOST_WARNING_SECONDS } from '../plans/plan.ts';

/** Words of the plans on Set-up, and of the pages where they are kept and changed. */
export const PLANS_WORDS = {
  plan: 'Plan',
  none: 'No plan: every call is yours',
  readyMade: 'Ready-made',
  own: 'This station’s own',
  begin: 'Begin:',
  nextLeg: 'next leg',
  finish: 'finish',
  says: 'The plan says technique, stance, airway, guidance and tempo, leg by leg.',
  toPlans: 'Plans: change, duplicate, share',
  title: 'Plans',
  intro: 'A plan is what you mean to run. It only makes the calls; what really happened is in the journal.',
  back: 'Back to Set-up',
  chosen: 'chosen on Set-up',
  change: 'Change',
  duplicate: 'Duplicate',
  share: 'Save as a file',
  remove: 'Remove',
  removeAsk: (name: string) => `Remove “${name}” from this station?`,
  removeYes: 'Remove it',
  removeNo: 'Keep it',
  newOne: 'New plan',
  newName: 'New plan',
  copyName: (name: string) => `${name}, changed`.slice(0, 80),
  take: 'Take in a plan file',
  taken: (name: string) => `“${name}” is taken in.`,
  refused: (file: string, reason: string) => `${file} is refused: ${reason}.`,
  notRead: (file: string) => `${file} cannot be read.`,
  badFile: (file: string, reason: string) => `${file} is no plan: ${reason}. It is left as it is.`,
  noneOwn: 'None yet: duplicate one, or take in a file.',
  of: (action: string, name: string) => `${action}: ${name}`,
} as const;

/** Words of the page where a plan is changed. */
export const PLAN_FORM_WORDS = {
  title: 'Change a plan',
  name: 'Name',
  learners: 'For the learners',
  instructor: 'For the instructor',
  begin: 'Begin is called',
  leg: (number: number) => `Leg ${number}`,
  kind: 'It is',
  compressor: 'Compresses',
  technique: 'Technique',
  stance: 'Stance',
  airway: 'Airway',
  guidance: 'Guidance',
  cycle: 'Cycle, ms',
  seconds: `Seconds, ${LEG_SECONDS.least} to ${LEG_SECONDS.most}`,
  heartRate: 'Heart rate said, or empty',
  note: 'Note to the instructor',
  next: 'Then the next is called',
  finish: 'Then finish is called',
  warning: `Warning, s, 0 to ${MOST_WARNING_SECONDS}`,
  up: 'Earlier',
  down: 'Later',
  copy: 'Duplicate',
  remove: 'Remove',
  add: 'Add a leg',
  save: 'Save the plan',
  cancel: 'Back without saving',
  wrong: (where: string, problem: string) => `Not saved: ${where} ${problem}.`,
} as const;

export const CALLED_CHOICES = { itself: 'by itself', instructor: 'by the instructor' } as const;
export const TECHNIQUE_FORM_CHOICES = {
  'two-thumb': 'two-thumb',
  'two-finger': 'two-finger: the exception',
} as const;
export const LEG_KIND_CHOICES = {
  practise: 'practise',
  ventilation: 'ventilation alone',
  rest: 'rest',
  check: 'heart-rate check',
} as const;
export const COMPRESSOR_CHOICES: Record<LegCompressor, string> = {
  stay: 'who does',
  swap: 'swap: the other',
  A: 'the first person',
  B: 'the second person',
};

/** Where something is wrong, as the form shows it: legs count from 1. "leg 2, seconds". */
export function placeWords(path: readonly (string | number)[]): string {
  const [first, index, ...rest] = path;
  if (first !== 'legs' || typeof index !== 'number') return path.join(', ');
  return [`leg ${index + 1}`, ...rest].join(', ');
}
