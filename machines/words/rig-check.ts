import type { OpenLine, Rig, RigCheck, Stance, Technique } from '../journal.ts';
import { isCheckedFor } from '../rig-check/rig-check.ts';
import type { RigCheckTrouble, SwitchState } from '../rig-check/rig-check-machine.ts';
import type { CheckedSwitch, Hands, RigCheckStep } from '../rig-check/rig-check-steps.ts';
import { STANCE_WORDS, TECHNIQUE_WORDS } from './english.ts';

const STATE_WORDS: Record<SwitchState, string> = {
  down: 'down',
  up: 'up',
  unknown: 'not known, press it and let it go once',
};

/** Words of the rig check. */
export const RIG_CHECK_WORDS = {
  title: 'Rig check',
  why: 'A switch that rewards tapping trains tapping. About a minute, with gloves on, once a day.',
  who: 'One person at the manikin, one here. For each step: put the hands as it says, look, then press 1. The step counts only if the switch is then as it should be.',
  techniques: 'Techniques the day’s drills use',
  stances: 'Stances the day’s drills use',
  note: 'A drill that opens with another technique or stance is recorded as a rhythm drill.',
  start: 'Start the check',
  back: 'Back to Set-up',
  step: (at: number, of: number) => `Step ${at} of ${of}`,
  confirm: 'The hands are there',
  again: 'The hands are there: try again',
  skip: 'Skip the check: drills are rhythm drills today',
  fail: 'End the check: not passed, drills are rhythm drills today',
  done: 'Back to Set-up',
  chestIs: (state: SwitchState) => `Chest switch: ${STATE_WORDS[state]}`,
  airwayIs: (state: SwitchState) => `Airway switch: ${STATE_WORDS[state]}`,
} as const;

export const RIG_CHECK_OUTCOMES = {
  passed:
    'Passed. Today’s drills with these switches are manikin drills if they open with a technique and stance checked here; others are rhythm drills.',
  failed: 'Not passed. Today’s drills are rhythm drills. The guide says how a switch is set.',
  skipped: 'Skipped. Today’s drills are rhythm drills.',
} as const;

const HANDS_WORDS: Record<Hands, string> = {
  'thumbs resting': 'Hands in place, resting on the chest without pressing.',
  'one third down': 'Press to one third of the chest’s depth, and hold.',
  'let up': 'Let the chest come up fully, hands still on it.',
  'bag held': 'Hold the bag, mask sealed, without squeezing.',
  'chest just rises': 'Squeeze gently until the chest just rises, and hold.',
  'bag released': 'Let the bag go slack, hand still on it.',
};

/** What the hands do in a step: "Two-thumb, foot-end. Press to one third …". */
export function stepWords({ technique, stance, hands }: RigCheckStep): string {
  const who =
    technique === null ? `The bag, ${STANCE_WORDS[stance]}` : upperFirst(stretchWords({ technique, stance }));
  return `${who}. ${HANDS_WORDS[hands]}`;
}

/** Why a step was not passed, and what to look at. */
export function troubleWords(trouble: RigCheckTrouble, name: CheckedSwitch): string {
  const other = name === 'chest' ? 'airway' : 'chest';
  if (trouble === 'other down')
    return `The ${other} switch is down: is something resting on it, or are the two swapped?`;
  if (trouble === 'unknown' || trouble === 'other unknown')
    return `Whether the ${trouble === 'unknown' ? name : other} switch is up or down is not known: press it and let it go once.`;
  if (name === 'chest') {
    return trouble === 'still up'
      ? 'The chest switch is still up: at this depth it does not close. A thicker shim closes it sooner.'
      : 'The chest switch is still down: resting hands close it. A thinner shim closes it later.';
  }
  return trouble === 'still up'
    ? 'The airway switch is still up: is the mask sealed and the line in place? Else it needs too hard a squeeze.'
    : 'The airway switch is still down: is the bag held too tightly, or is a line pinched?';
}

/** What Set-up says of a manikin rig: may it be one today? `time` is the check's time of day. */
export function rigStanding(
  check: RigCheck | null,
  time: string,
  asked: { technique: Technique; stance: Stance },
): string {
  if (check === null || check.outcome === 'not-done')
    return 'Not checked today: until it is, drills are recorded as rhythm drills.';
  if (check.outcome !== 'passed')
    return `The check was ${check.outcome === 'failed' ? 'not passed' : 'skipped'} today at ${time}: drills are recorded as rhythm drills.`;
  const made = `Checked today at ${time}: ${checkedWith(check)}.`;
  if (isCheckedFor(check, asked)) return made;
  return `${made} Not with ${TECHNIQUE_WORDS[asked.technique]}, ${STANCE_WORDS[asked.stance]}: a drill that opens so is recorded as a rhythm drill.`;
}

type Stretch = { technique: Technique; stance: Stance };

/** What every report says of the rig check, or null where a rhythm rig was wanted. Times are in UTC unless told otherwise. */
export function rigCheckSentence(
  { rig, rigCheck }: { rig: Rig; rigCheck?: RigCheck | null | undefined },
  bouts: readonly Stretch[],
  formatTime: (at: string) => string = formatUtc,
): string | null {
  if (rigCheck === undefined || rigCheck === null)
    return rig === 'manikin' ? 'Whether the rig was checked is not in this journal.' : null;
  switch (rigCheck.outcome) {
    case 'not-done':
      return 'Rhythm only: the rig was not checked that day.';
    case 'skipped':
      return `Rhythm only: the rig check was skipped (${formatTime(rigCheck.at)}).`;
    case 'failed':
      return `Rhythm only: the rig check was not passed (${formatTime(rigCheck.at)}).`;
    case 'passed': {
      const made = `${rig === 'rhythm' ? 'Rhythm only: the rig was' : 'Rig'} checked that day, ${formatTime(rigCheck.at)}: ${checkedWith(rigCheck)}.`;
      const others = [...new Set(bouts.filter((bout) => !isCheckedFor(rigCheck, bout)).map(stretchWords))];
      if (others.length === 0) return rig === 'rhythm' ? `${made} The drill opened with another.` : made;
      return `${made} Not checked with ${others.join('; ')}: read those stretches as rhythm only.`;
    }
  }
}

/** What the instructor is told when a manikin drill goes on with what the rig was not checked with; null when it was. */
export function uncheckedNotice(
  { rig, rigCheck }: Pick<OpenLine, 'rig' | 'rigCheck'>,
  called: Stretch,
): string | null {
  if (rig !== 'manikin' || rigCheck === undefined || isCheckedFor(rigCheck, called)) return null;
  return `The rig was not checked with ${stretchWords(called)}: what is done so is to be read as rhythm only.`;
}

function stretchWords({ technique, stance }: Stretch): string {
  return `${TECHNIQUE_WORDS[technique]}, ${STANCE_WORDS[stance]}`;
}

function checkedWith({ techniques, stances }: Extract<RigCheck, { techniques: unknown }>): string {
  return `${techniques.map((one) => TECHNIQUE_WORDS[one]).join(' and ')}, ${stances.map((one) => STANCE_WORDS[one]).join(' and ')}`;
}

/** "2026-03-02 09:12 UTC". */
function formatUtc(at: string): string {
  return `${at.slice(0, 10)} ${at.slice(11, 16)} UTC`;
}

function upperFirst(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
