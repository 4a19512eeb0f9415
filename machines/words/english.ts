import type { Hint } from '../hints.ts';
import type { Airway, CallName, Guidance, Rig, Stance, Technique } from '../journal.ts';
import type { Standing } from '../pattern.ts';
import type { HandoverOutcome } from '../scoring/bout.ts';
import type { Fault } from '../scoring/faults.ts';

/** The count, in the order of the beats. */
export const COUNT_WORDS = ['one', 'two', 'three', 'breathe'] as const;

export const HINT_WORDS: Record<Hint, string> = {
  'wait for breathe': 'Wait for ‘breathe’',
  'leave room': 'Leave room for the breath',
  slower: 'Slower',
  faster: 'Faster',
  'keep going': 'Keep going',
};

/** What happened in a cycle. A breath is "not registered" rather than missed: a switch can fail. */
export const FAULT_WORDS: Record<Fault, string> = {
  'no breath, gap left': 'no breath, a gap was left',
  'no breath, no gap': 'no breath, no gap left',
  'breath after one': 'breath after one',
  'breath after two': 'breath after two',
  'breath after four': 'breath after four',
  'more than one breath': 'more than one breath',
  'breath too soon': 'breath too soon',
  'compression too soon': 'compression too soon',
  'let go late': 'bag let go late',
  pause: 'pause',
  'uneven compressions': 'uneven compressions',
  'breath early': 'breath early',
  'breath late': 'breath late',
  'cycle short': 'short cycle',
  'cycle long': 'long cycle',
};

/** In place of a cycle's faults, where the instructor has marked it. */
export const SWITCH_MISSED_IT = 'the switch missed it';

/** "2 cycles left out: the switch missed them". */
export function leftOutWords(count: number): string {
  return count === 1
    ? '1 cycle left out: the switch missed it'
    : `${count} cycles left out: the switch missed them`;
}

/** The same beside the sheet, where there is little room. */
export function leftOutLabel(count: number): string {
  return `${count} left out`;
}

export const CALL_WORDS: Record<CallName, string> = {
  begin: 'Begin',
  swap: 'Swap',
  taken: 'Taken',
  technique: 'Technique',
  stance: 'Stance',
  airway: 'Airway',
  guidance: 'Guidance',
  tempo: 'Tempo',
  'heart-rate': 'Heart rate',
  check: 'Check',
  checked: 'Checked',
  rest: 'Rest',
  resume: 'Resume',
  undo: 'Undo',
  finish: 'Finish',
};

export const TECHNIQUE_WORDS: Record<Technique, string> = {
  'two-thumb': 'two-thumb',
  'two-finger': 'two-finger',
};
export const STANCE_WORDS: Record<Stance, string> = {
  'foot-end': 'foot-end',
  'head-end': 'head-end',
  side: 'side',
};
export const GUIDANCE_WORDS: Record<Guidance, string> = { led: 'led', weaned: 'weaned', unled: 'unled' };
export const RIG_WORDS: Record<Rig, string> = { manikin: 'manikin', rhythm: 'rhythm' };
export const AIRWAY_WORDS: Record<Airway, string> = { mask: 'mask', secured: 'airway secured' };

export const OUTCOME_WORDS: Record<HandoverOutcome, string> = {
  'taken up': 'taken up',
  seamless: 'without a gap: who compressed when is a guess',
  'never taken up': 'never taken up',
  withdrawn: 'withdrawn',
  'cut short': 'cut short',
};

export const STANDING_WORDS: Record<Standing, string> = {
  read: 'read in the source',
  'second-hand': 'second-hand: read in a text that restates it',
  memory: 'from memory, not verified: see your course’s book',
};

export const NOT_MEASURED = 'not measured';

/** What no switch can know. Only an instructor who watches can say. */
export const NOT_BY_SWITCH = [
  'chest rise',
  'depth of one third of the chest’s front-to-back diameter',
  'full release',
  'hand position',
  'mask seal',
  'a firm surface',
] as const;

export const CAUTIONS = {
  purpose:
    'For training on manikins only. Not a medical device; never for use on a patient. Your course’s guideline, your local protocols and your licensed instructor overrule it.',
  newlyBorn:
    'For the newly born only. An infant who collapses later is usually treated by another ratio (15:2).',
  rhythm:
    'Rhythm rig: keys or pedals on the table. Good for learning the count and the change of roles; it says nothing about compressions or breaths on a chest.',
  technique: 'Two-thumb is the method of choice; timing alone cannot compare the techniques.',
  askFirst: 'Ask them first: what went well, what would you change?',
} as const;

/** "20 of 29 cycles". */
export function ofCycles(count: number, total: number): string {
  return `${count} of ${total} ${total === 1 ? 'cycle' : 'cycles'}`;
}
