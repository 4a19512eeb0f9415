import type { Airway, Binding, Rig, Stance, Technique, Tolerance } from '../journal.ts';

type Choice = { label: string; note?: string };

/** Words of the Set-up screen. */
export const SET_UP_WORDS = {
  title: 'Set-up',
  intro: 'Two people, two switches: three compressions and a breath, over and over, in two seconds.',
  people: 'Who practises',
  personA: 'First person',
  personB: 'Second person',
  namesMissing: 'Write both names: first names or initials will do.',
  namesSame: 'Both have the same name. Add an initial, or the sheet cannot tell them apart.',
  roles: 'Who compresses first',
  binding: 'A switch belongs to',
  rig: 'Rig',
  technique: 'Technique',
  stance: 'The compressor stands at the',
  airway: 'Airway',
  guideline: 'Guideline',
  guidelineNumbers: 'Its numbers, where each is from, and how far that was checked',
  tolerance: 'Tolerance',
  toleranceNote: 'Tolerances are tool defaults, not the guideline’s.',
  number: 'Number',
  value: 'Value',
  source: 'Source',
  start: 'Start the drill',
  starting: 'Opening …',
  earlier: 'Earlier drills on this station',
  noEarlier: 'None yet.',
  ledger: 'Ledger: every drill on this station',
  notClosed: 'left before it was closed',
  openDebrief: (names: string, when: string) => `Debrief of ${names}, ${when}`,
  folder: (folder: string) => `Journals are kept in ${folder}`,
} as const;

export const RIG_CHOICES: Record<Rig, Choice> = {
  rhythm: { label: 'Rhythm: two keys or pedals on the table' },
  manikin: {
    label: 'Manikin: switches in the manikin and the bag',
    note: 'Checked once a day, gloved: the chest switch closes near one third of depth, the airway switch when a gentle squeeze raises the chest.',
  },
};
export const BINDING_CHOICES: Record<Binding, Choice> = {
  place: { label: 'its place: people change places, switches stay' },
  person: { label: 'its person: each keeps a switch, a swap changes what it means' },
};
export const TECHNIQUE_CHOICES: Record<Technique, Choice> = {
  'two-thumb': { label: 'Two-thumb' },
  'two-finger': { label: 'Two-finger', note: 'The exception: two-thumb is the method of choice.' },
};
export const STANCE_CHOICES: Record<Stance, Choice> = {
  'foot-end': { label: 'Foot-end' },
  'head-end': { label: 'Head-end' },
  side: { label: 'Side' },
};
export const AIRWAY_CHOICES: Record<Airway, Choice> = {
  mask: { label: 'Mask' },
  secured: { label: 'Secured' },
};
export const TOLERANCE_CHOICES: Record<Tolerance, Choice> = {
  standard: { label: 'Standard' },
  first: { label: 'First contact: wider' },
};
