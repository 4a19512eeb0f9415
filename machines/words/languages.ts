import type { Hint } from '../hints.ts';
import type { Airway, CallName, Stance, Technique } from '../journal.ts';
import { LEARNERS_ENGLISH } from './learners-english.ts';
import { LEARNERS_GERMAN } from './learners-german.ts';

/** What learners read and hear, in a language. `{name}` stands for a person's name, `{call}` for a call's word. */
export type LearnersWords = {
  /** As HTML names it, and the files of assets/sounds. */
  code: string;
  /** In the language itself. */
  name: string;
  /** A caution about the words themselves, beside the choice, in English; empty: none. */
  note: string;
  /** In the order of the beats. */
  count: readonly [string, string, string, string];
  hints: Record<Hint, string>;
  ready: string;
  begin: string;
  resume: string;
  checked: string;
  ventilate: string;
  heartRate: string;
  rest: string;
  check: string;
  finished: string;
  holdToBegin: string;
  letGo: string;
  called: Record<'swap' | Technique | Stance, string>;
  compresses: string;
  ventilates: string;
  breathsNow: string;
  /** What is about to be called, with `soon` beside it; spoken too: each is a word of assets/sounds/calls. */
  coming: Record<
    'begin' | 'swap' | Technique | Stance | Airway | 'rest' | 'resume' | 'check' | 'checked' | 'finish',
    string
  >;
  soon: string;
  /** Does `soon` stand before what is coming, or after it? */
  soonStands: 'before' | 'after';
  /** Said to a screen reader. */
  calls: Record<CallName, string>;
  isCalled: string;
};

export const LANGUAGES = ['english', 'german'] as const;
export type Language = (typeof LANGUAGES)[number];
export const LEARNERS_WORDS: Record<Language, LearnersWords> = {
  english: LEARNERS_ENGLISH,
  german: LEARNERS_GERMAN,
};
