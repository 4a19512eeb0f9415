import type { OpenLine, RigCheck, Stance, Technique } from '../journal.ts';
import { isCheckedFor } from '../rig-check/rig-check.ts';
import { STANCE_WORDS, TECHNIQUE_WORDS } from './english.ts';

/** Words of Set-up's part for switches. */
export const SWITCH_WORDS = {
  legend: 'Switches',
  chest: 'Chest switch',
  airway: 'Airway switch',
  of: (name: string) => `${name}’s switch`,
  change: 'Change',
  bindBoth: 'Bind both by pressing them',
  pressNow: (what: string) => `Press the ${lowerFirst(what)} now, or Escape`,
  boundToday: (time: string) => `Both were pressed today at ${time}.`,
  notBoundToday: 'Not pressed today: bind both once a day, so that a lead that was pulled out is noticed.',
  notPluggedIn: 'not plugged in, or not pressed since the window opened: press it once',
  keysNote: 'The instructor has the digits and the number pad; Enter goes on.',
  guide: 'How to build the rig',
  checkRig: 'Check the rig',
  checkAgain: 'Check the rig again',
  figures: 'Switch figures',
  figuresNote: 'Both switches pressed with one object ten times: not measured in this version.',
  holding: 'Without an instructor',
  holdingLabel: 'Holding both switches for two seconds begins the drill, and finishes it',
} as const;

/** Why a switch cannot be taken. */
export const SWITCH_REFUSALS = {
  instructor: 'The digits and the number pad are the instructor’s keys. Choose another.',
  window: 'The window needs that key for itself. Choose another.',
  nameless: 'The keyboard does not say which key that is. Choose another.',
  taken:
    'That is the other switch already. If it was another pedal, both send the same key, and nobody can tell them apart: set one to another key with its maker’s program, or wire both to one game pad or keyboard.',
} as const;

/** What a pad's control is called: "pad button 3", "pad axis 1". */
export function padControlName(control: { button: number } | { axis: number }): string {
  return 'button' in control ? `pad button ${control.button}` : `pad axis ${control.axis}`;
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

/** What every report says of the rig check, or null where a rhythm rig was wanted. `when` is the check's time in words. */
export function rigCheckSentence(
  { rig, rigCheck }: Pick<OpenLine, 'rig' | 'rigCheck'>,
  when: string,
  bouts: readonly Stretch[],
): string | null {
  if (rigCheck === undefined)
    return rig === 'manikin' ? 'Whether the rig was checked is not in this journal.' : null;
  switch (rigCheck.outcome) {
    case 'not-done':
      return 'Rhythm only: the rig was not checked that day.';
    case 'skipped':
      return `Rhythm only: the rig check was skipped (${when}).`;
    case 'failed':
      return `Rhythm only: the rig check was not passed (${when}).`;
    case 'passed': {
      const made = `${rig === 'rhythm' ? 'Rhythm only: the rig was' : 'Rig'} checked that day, ${when}: ${checkedWith(rigCheck)}.`;
      const others = [...new Set(bouts.filter((bout) => !isCheckedFor(rigCheck, bout)).map(stretchWords))];
      if (others.length === 0) return rig === 'rhythm' ? `${made} The drill opened with another.` : made;
      return `${made} Not checked with ${others.join('; ')}: read those stretches as rhythm only.`;
    }
  }
}

function stretchWords({ technique, stance }: Stretch): string {
  return `${TECHNIQUE_WORDS[technique]}, ${STANCE_WORDS[stance]}`;
}

function checkedWith({ techniques, stances }: Extract<RigCheck, { techniques: unknown }>): string {
  return `${techniques.map((one) => TECHNIQUE_WORDS[one]).join(' and ')}, ${stances.map((one) => STANCE_WORDS[one]).join(' and ')}`;
}

function lowerFirst(words: string): string {
  return `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
}
