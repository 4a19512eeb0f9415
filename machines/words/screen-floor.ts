import type { ChartContext, ChartEmitted } from '../drill-events.ts';
import type { Airway, Guidance, Person, Roles, Stance, Technique } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { CALL_WORDS, GUIDANCE_WORDS, STANCE_WORDS, TECHNIQUE_WORDS } from './english.ts';
import type { LearnersWords } from './languages.ts';

type Names = { A: string; B: string };

/** Words of the Floor. */
export const FLOOR_WORDS = {
  title: 'Floor',
  instructor: 'Instructor’s view',
  learners: 'Learners’ view',
  toInstructor: 'Instructor’s view',
  toLearners: 'Learners’ view',
  sheet: 'Sheet',
  sheetNote: (total: number, shown: number) =>
    total > shown
      ? `the latest ${shown} of ${total} cycles`
      : 'a row a cycle; bars are compressions, pills are breaths',
  sheetEmpty: 'A row appears here for every complete cycle.',
  sheetLabel: (cycles: number) =>
    `Sheet, a row a cycle: ${cycles === 1 ? '1 cycle' : `${cycles} cycles`} so far`,
  now: 'Now',
  compresses: 'Compresses',
  ventilates: 'Ventilates',
  technique: 'Technique',
  stance: 'Stance',
  guidance: 'Count',
  heartRate: 'Heart rate',
  notAnnounced: 'not announced',
  announced: (bpm: number) => `${bpm} last announced`,
  lastHandover: 'Last handover',
  noHandover: 'none yet',
  giveRate: 'Give the heart rate',
  called: (words: string) => `${words} called: until it is done, the old arrangement stands`,
  keys: 'Keys',
  saved: 'Saved',
  saving: 'Saving …',
  closing: 'Closing the journal …',
  notSaved: 'Not saved: see the instructor’s view.',
  noFocus: 'This window does not have the keyboard: no press is seen of any key. Click into it.',
  finished: 'Finished.',
  finishedNote: 'A finish by mistake can be undone (8) until the drill is closed.',
  closeAndDebrief: 'Close and debrief',
  leave: 'Leave this drill',
  leaveAsk: 'Leave without finishing? What was recorded stays in the journal as it is.',
  leaveYes: 'Leave it',
  leaveNo: 'Stay',
  undoNothing: 'Undo',
} as const;

export const STAGE_SENTENCES = {
  notBegun: 'Not begun',
  ventilating: 'Ventilating',
  ready: 'Begun',
  compressing: 'Under way',
  resting: 'Rest',
  checking: 'Heart-rate check',
  finished: 'Finished',
} as const;

/** What the stage waits for. */
export const STAGE_NOTES: Record<keyof typeof STAGE_SENTENCES, string | null> = {
  notBegun: 'Presses count from “Begin”.',
  ventilating: 'Without compressions; no count until the first.',
  ready: 'Waiting for the first compression.',
  compressing: null,
  resting: null,
  checking: null,
  finished: null,
};

/** Who stands where: "Ada compresses", "Ben ventilates". */
export function placesOf(roles: Roles, people: Names, words: LearnersWords): [string, string] {
  return [
    withName(words.compresses, people[roles.compressor]),
    withName(words.ventilates, people[roles.ventilator]),
  ];
}

/** To the learner who compresses on after a swap, once. */
export function breathsNowWords(to: Person, people: Names, words: LearnersWords): string {
  return withName(words.breathsNow, people[to]);
}

/** What each of the instructor's keys would do now, in words. */
export function actionWords({ called, arrangement, lastCall }: ChartContext, people: Names) {
  const isSwapped = called.roles.compressor !== arrangement.roles.compressor;
  const next = people[called.roles.ventilator];
  return {
    begin: CALL_WORDS.begin,
    beginVentilating: 'Begin with ventilation',
    swap: isSwapped ? 'Swap back' : `Swap: ${next} compresses`,
    taken: 'Taken: the new hands are on',
    technique: (to: Technique) => `Technique: ${TECHNIQUE_WORDS[to]}`,
    stance: (to: Stance) => `Stance: ${STANCE_WORDS[to]}`,
    check: 'Check the heart rate',
    checked: 'Checked',
    airway: (to: Airway) => (to === 'mask' ? 'Airway: mask' : 'Airway: secured'),
    rest: CALL_WORDS.rest,
    resume: CALL_WORDS.resume,
    undo: lastCall === null ? 'Undo' : `Undo “${CALL_WORDS[lastCall.call].toLowerCase()}”`,
    finish: CALL_WORDS.finish,
    guidance: (to: Guidance) => `Count: ${GUIDANCE_WORDS[to]}`,
    tempo: (to: 'usual' | 'slow') => `Tempo: ${to}`,
  };
}

/** "weaned: silent now", "led: heard, at the slow tempo". */
export function guidanceSentence({ guidance, cycleMs }: ChartContext, isGiven: boolean): string {
  const tempo = cycleMs > CYCLE_MS ? ', at the slow tempo' : '';
  if (guidance === 'unled') return `unled: never given${tempo}`;
  return `${GUIDANCE_WORDS[guidance]}: ${isGiven ? 'given now' : 'silent now'}${tempo}`;
}

/** What a screen reader is told when the chart has something to say. */
export function saidWords(said: ChartEmitted, people: Names, words: LearnersWords): string {
  if (said.type === 'breaths handed over') return breathsNowWords(said.to, people, words);
  if (said.type === 'hint given') return words.hints[said.hint];
  return words.isCalled.replace('{call}', () => words.calls[said.call]);
}

/** A name is put in as it was typed, whatever signs it has. */
function withName(text: string, name: string): string {
  return text.replace('{name}', () => name);
}
