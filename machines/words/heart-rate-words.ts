import type { HeartRateWay } from '../journal.ts';

export const RATE_WAY_WORDS: Record<HeartRateWay, string> = {
  voice: 'by voice: you say it',
  sight: 'silently: on the learners’ view',
  taps: 'taps to the ear',
};

export const RATE_WORDS = {
  title: 'Heart rate to give',
  give: 'Give it',
  way: (way: HeartRateWay) => `How: ${RATE_WAY_WORDS[way]}`,
  less: '10 less',
  more: '10 more',
  erase: 'Erase a digit',
  leave: 'Not now',
  /** Without a check it is for the pair to ask. */
  onlyIfAsked: 'No check is going on: give it only if the pair has asked.',
  digits: 'Type the number; 300 at most.',
  open: 'A heart rate is being entered. Esc ends that.',
} as const;
