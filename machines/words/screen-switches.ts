import { formatNumber } from './format.ts';

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
  keysNote: 'The instructor has the digits, the keys beside them and the number pad; Enter goes on.',
  guide: 'How to build the rig',
  checkRig: 'Check the rig',
  checkAgain: 'Check the rig again',
  measure: 'Measure the switches',
  notMeasured: 'Bounce, step and offset of these switches are not measured.',
  measured: (when: string, bounceMs: number | undefined) =>
    `Measured ${when}; bounce is ${bounceMs === undefined ? 'not measured yet' : `taken out up to ${bounceMs} ms`}.`,
  bouncesTooLong: (when: string, problem: string) =>
    `Measured ${when}: ${problem}. Presses may count twice. Use another switch.`,
  takeOut: (medianMs: number) =>
    `Take the offset between the two (${formatNumber(Math.abs(medianMs), 1)} ms) out of the score`,
  holding: 'With no instructor: hold both two seconds to begin and to finish',
} as const;

/** Why a switch cannot be taken. */
export const SWITCH_REFUSALS = {
  instructor:
    'The digits, the keys beside them, the number pad and whatever was chosen for a call are the instructor’s keys. Choose another.',
  window: 'The window needs that key for itself. Choose another.',
  nameless: 'The keyboard does not say which key that is. Choose another.',
  taken:
    'That is the other switch already. If it was another pedal, both send the same key, and nobody can tell them apart: set one to another key with its maker’s program, or wire both to one game pad or keyboard.',
  'rest-unknown':
    'It moved, but it is not known yet where it rests. Let it go, wait two seconds, and press it once more.',
} as const;

/** What a pad's control is called: "pad button 3", "pad axis 1". */
export function padControlName(control: { button: number } | { axis: number }): string {
  return 'button' in control ? `pad button ${control.button}` : `pad axis ${control.axis}`;
}

function lowerFirst(words: string): string {
  return `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
}
