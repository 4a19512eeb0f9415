import type { Rig } from '../journal.ts';
import type { Item } from '../scoring/advice.ts';
import type { PersonRuleId, PraiseRuleId } from '../scoring/advice-rules.ts';
import type { TickItem } from '../ticks.ts';
import { formatNumber } from './format.ts';

/** What was seen in a person's role, and what to try. */
export type Saying = { happened: string; toTry: string };

/** "in six cycles", "a little early": what a rule's sentence needs of its evidence. */
type Parts = { inCycles: string; little: string; pace: string; isLonger: boolean; rig: Rig };

/** A rule's learner's words, without a millisecond. What a switch cannot know is not said. */
export function sayingOf({ rule, evidence }: Item, rig: Rig): Saying {
  const parts: Parts = {
    inCycles: evidence.kind === 'share' ? `in ${cycles(evidence.count)}` : '',
    little: evidence.kind === 'mean' && evidence.awayMs < LITTLE_MS ? 'a little ' : '',
    pace: evidence.kind === 'mean' ? formatNumber(THREE_OF_FOUR_BEATS / evidence.value, 0) : '',
    isLonger: evidence.kind === 'pace change' && evidence.value > 0,
    rig,
  };
  const { happened, toTry } = SAYINGS[rule](parts);
  return { happened, toTry };
}

/** "a little early/late" to 200 ms, then "early/late" (design section 7). */
const LITTLE_MS = 200;
/** Compressions a minute when three of four beats are one, over a beat in ms. */
const THREE_OF_FOUR_BEATS = 45_000;

const SWITCH_CAUTION = 'If you did, have the switch looked at';
const squeeze = (rig: Rig) =>
  rig === 'rhythm' ? 'press briefly, let go' : 'squeeze until the chest just rises, let go';

const SAYINGS: Record<PersonRuleId, (parts: Parts) => Saying> = {
  'breath-too-soon': ({ inCycles, rig }) => ({
    happened: `${inCycles} you ${rig === 'rhythm' ? 'gave the breath' : 'squeezed'} before the third compression was let up`,
    toTry: `wait for the word ‘breathe’, ${squeeze(rig)}`,
  }),
  'compression-too-soon': ({ inCycles }) => ({
    happened: `${inCycles} your next compression crowded the breath`,
    toTry: 'say ‘breathe’ aloud, give it the time of a whole beat, and only then say ‘one’',
  }),
  'breath-before-third': ({ inCycles, rig }) => ({
    happened: `${inCycles} the breath came before the third compression`,
    toTry: `count along, wait for the word ‘breathe’, ${squeeze(rig)}`,
  }),
  'no-room': ({ inCycles }) => ({
    happened: `${inCycles} you went on after ‘three’ and left no gap for a breath`,
    toTry: 'say ‘breathe’ aloud, and keep still for that beat',
  }),
  'no-breath': ({ inCycles, rig }) => ({
    happened: `${inCycles} a gap was left and no breath was registered`,
    toTry: `at every ‘breathe’, ${squeeze(rig)}. ${SWITCH_CAUTION}`,
  }),
  pause: ({ inCycles }) => ({
    happened: `${inCycles} the compressions paused`,
    toTry: 'keep the words going aloud: after ‘breathe’ comes ‘one’',
  }),
  'four-compressions': ({ inCycles }) => ({
    happened: `${inCycles} there were four compressions before the breath`,
    toTry: 'say the numbers aloud, and after ‘three’ say ‘breathe’',
  }),
  'compression-not-registered': ({ inCycles }) => ({
    happened: `${inCycles} fewer than three compressions were registered`,
    toTry: `say ‘one, two, three’ aloud, with a compression on each. ${SWITCH_CAUTION}`,
  }),
  'several-breaths': ({ inCycles, rig }) => ({
    happened: `${inCycles} more than one breath was registered`,
    toTry: `one breath at each ‘breathe’: ${squeeze(rig)}`,
  }),
  'compression-held': ({ inCycles }) => ({
    happened: `${inCycles} the third compression was still held when the breath was due`,
    toTry: 'let up before you say ‘breathe’',
  }),
  'let-go-late': ({ inCycles, rig }) => ({
    happened: `${inCycles} the ${rig === 'rhythm' ? 'breath was' : 'bag was'} still held when the next compression came`,
    toTry: `${squeeze(rig)}, before ‘one’`,
  }),
  'breath-early': ({ little }) => ({
    happened: `your breath mostly came ${little}early`,
    toTry: 'wait for the word ‘breathe’ before you move',
  }),
  'breath-late': ({ little }) => ({
    happened: `your breath mostly came ${little}late`,
    toTry: 'count along, so that you move with the word ‘breathe’ and not after it',
  }),
  'breath-early-at-times': ({ inCycles }) => ({
    happened: `${inCycles} your breath came early`,
    toTry: 'wait for the word ‘breathe’ before you move',
  }),
  'breath-late-at-times': ({ inCycles }) => ({
    happened: `${inCycles} your breath came late`,
    toTry: 'count along, so that you move with the word ‘breathe’ and not after it',
  }),
  'pace-fast': ({ pace }) => ({
    happened: `you ran at the pace of about ${pace} a minute against 90`,
    toTry: 'say every word aloud, and go no faster than you can say it',
  }),
  'pace-slow': ({ pace }) => ({
    happened: `you ran at the pace of about ${pace} a minute against 90`,
    toTry: 'run a minute with the count on, then keep saying its words aloud at that pace',
  }),
  uneven: ({ inCycles }) => ({
    happened: `${inCycles} the three compressions were not evenly spaced`,
    toTry: 'say ‘one, two, three, breathe’ aloud, each word as long as the last',
  }),
  'start-early': ({ little }) => ({
    happened: `your ‘one’ mostly came ${little}early after the breath`,
    toTry: 'give ‘breathe’ the time of a whole beat before you say ‘one’',
  }),
  'start-late': ({ little }) => ({
    happened: `your ‘one’ mostly came ${little}late after the breath`,
    toTry: 'say the words without a break: after ‘breathe’ comes ‘one’',
  }),
  'pace-change': ({ isLonger }) => ({
    happened: `your cycles grew ${isLonger ? 'longer' : 'shorter'} as the stretch went on`,
    toTry: 'say the words aloud to the very end, at the pace you began with',
  }),
};

/** What was earned: of timing alone, since that is all that switches know. */
export const PRAISE_SAYINGS: Record<PraiseRuleId, (inCycles: string) => string> = {
  'breath-in-place': (inCycles) => `one breath in its place, ${inCycles}`,
  'three-each': (inCycles) => `three even compressions and room for the breath, ${inCycles}`,
};

/** What someone who watches sees: "saw the chest rise, but not full release". */
export const WATCH_WORDS: Record<TickItem, string> = {
  'chest-rise': 'the chest rise',
  'full-release': 'full release',
  depth: 'a depth of about one third',
  position: 'the thumbs in place',
  'counts-aloud': 'the count said aloud',
  'mask-seal': 'the mask seal',
  'squeeze-length': 'squeezes only until the chest rises',
  'fingers-support': 'the fingers supporting the back',
  'firm-surface': 'a firm surface',
  'ventilation-corrected': 'the ventilation corrected',
  'airway-secured': 'the airway secured',
  'oxygen-raised': 'the oxygen raised',
};

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/** "six cycles", "one cycle", "17 cycles". */
export function cycles(count: number): string {
  return `${NUMBERS[count] ?? count} ${count === 1 ? 'cycle' : 'cycles'}`;
}
