import { type DrillSetup, FIRST_SOUND, type StationSettings } from '../../electron/contract.ts';
import { WEANING } from '../../machines/count/weaning.ts';
import { switchesOf } from '../../machines/journal.ts';
import { CYCLE_MS, guidelineOf, SLOW_CYCLE_MS } from '../../machines/pattern.ts';
import { SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { refusalOf } from '../adapters/key-uses.ts';

/** Tool defaults of a new station. */
const FIRST_SETTINGS: StationSettings = {
  people: { A: '', B: '' },
  // Far apart, in the row nearest to the two; one key in from the edge, since five slips onto Shift
  // would switch on a system's sticky keys; away from the instructor's digits. Any two keys go together.
  keys: { chest: 'KeyX', airway: 'Period' },
  rig: 'rhythm',
  guideline: 'us-style',
  binding: 'place',
  airway: 'mask',
  tolerance: 'standard',
  roles: { compressor: 'A', ventilator: 'B' },
  technique: 'two-thumb',
  stance: 'foot-end',
  guidance: 'weaned',
  tempo: 'usual',
  weaning: WEANING,
  stations: 'one',
  sound: FIRST_SOUND,
};
/** A keyboard's events come in steps of 1 ms at the best (measured under X11; other systems are no finer). */
const KEYBOARD_STEP_MS = 1;
/** Tool default: keys bounce for some ms, and nobody presses again within 25 ms. */
const BOUNCE_MS = 25;

/** What Set-up starts from: the last used, where it is still something the window offers. */
export function startingSettings(remembered: StationSettings | null): StationSettings {
  if (remembered === null) return FIRST_SETTINGS;
  const { chest, airway } = remembered.keys;
  const areKeysUsable = chest !== airway && refusalOf(chest) === null && refusalOf(airway) === null;
  return {
    ...remembered,
    keys: areKeysUsable ? remembered.keys : FIRST_SETTINGS.keys,
    guideline: guidelineOf(remembered.guideline) === null ? FIRST_SETTINGS.guideline : remembered.guideline,
    binding: remembered.rig === 'manikin' ? 'place' : remembered.binding,
  };
}

/** What is wrong with the names, or null. */
export function namesProblem({ A, B }: { A: string; B: string }): string | null {
  if (A.trim() === '' || B.trim() === '') return SET_UP_WORDS.namesMissing;
  return A.trim() === B.trim() ? SET_UP_WORDS.namesSame : null;
}

/** Several counts in a room mislead each other's pairs: there, unled is the default. */
export function withStations(
  { guidance }: StationSettings,
  stations: StationSettings['stations'],
): Partial<StationSettings> {
  if (stations === 'several') return { stations, guidance: 'unled' };
  return { stations, guidance: guidance === 'unled' ? FIRST_SETTINGS.guidance : guidance };
}

/** First contact is at the slower tempo, looked at with the wider tolerance, and led unless others would be misled. */
export function withTempo(
  { guidance, stations }: StationSettings,
  tempo: StationSettings['tempo'],
): Partial<StationSettings> {
  if (tempo === 'usual') return { tempo, tolerance: 'standard' };
  return { tempo, tolerance: 'first', guidance: stations === 'several' ? guidance : 'led' };
}

/** The drill that these settings ask for. */
export function drillSetupOf(settings: StationSettings): DrillSetup {
  const { keys: _keys, sound: _sound, stations: _stations, tempo, ...chosen } = settings;
  const source = { kind: 'keyboard', stepMs: KEYBOARD_STEP_MS };
  return {
    ...chosen,
    pattern: 'newborn-3-1',
    cycleMs: tempo === 'slow' ? SLOW_CYCLE_MS : CYCLE_MS,
    bounceMs: BOUNCE_MS,
    people: { A: settings.people.A.trim(), B: settings.people.B.trim() },
    sources: Object.fromEntries(switchesOf(settings.binding).map((name) => [name, source])),
  };
}
