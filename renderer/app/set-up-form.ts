import {
  type DrillSetup,
  FIRST_SETTINGS,
  type FoundOfSwitches,
  type StationSettings,
  type SwitchBinding,
} from '../../electron/contract.ts';
import { INSTRUCTOR_KEYS, KEYS_AS_AT_FIRST } from '../../machines/instructor-keys.ts';
import type { RigCheck } from '../../machines/journal.ts';
import { CYCLE_MS, guidelineOf, SLOW_CYCLE_MS } from '../../machines/pattern.ts';
import { firstPractise, type Plan, type PractiseLeg } from '../../machines/plans/plan.ts';
import { isCheckedFor, rigOfDrill } from '../../machines/rig-check/rig-check.ts';
import { MOST_BOUNCE_MS } from '../../machines/switches/bounce.ts';
import type { Ms } from '../../machines/units.ts';
import { SET_UP_WORDS } from '../../machines/words/screen-set-up.ts';
import { choiceRefusalOf, refusalOf } from '../adapters/key-uses.ts';
import { isToday } from '../components/when.ts';
import { bindingsOf } from '../switches/make-switches.ts';
import { isSameSwitch } from '../switches/switch-finder.ts';
import type { SwitchTimes } from '../switches/switch-times.ts';

/** Tool default: keys bounce for some ms, and nobody presses again within 25 ms. */
const BOUNCE_MS = 25;

/** What Set-up starts from: the last used, where it is still something the window offers. */
export function startingSettings(remembered: StationSettings | null): StationSettings {
  if (remembered === null) return FIRST_SETTINGS;
  const { chest, airway } = remembered.switches;
  const instructorKeys = areKeysUsable(remembered) ? remembered.instructorKeys : KEYS_AS_AT_FIRST;
  const isUsable = (one: SwitchBinding) => one.kind !== 'key' || refusalOf(one.code, instructorKeys) === null;
  const areUsable = !isSameSwitch(chest, airway) && isUsable(chest) && isUsable(airway);
  return {
    ...remembered,
    instructorKeys,
    // What was checked of other switches says nothing of these.
    ...(areUsable ? {} : { switches: FIRST_SETTINGS.switches, rigCheck: null, switchCheck: null }),
    guideline: guidelineOf(remembered.guideline) === null ? FIRST_SETTINGS.guideline : remembered.guideline,
    binding: remembered.rig === 'manikin' ? 'place' : remembered.binding,
  };
}

/** What is wrong with the names, or null. */
export function namesProblem({ A, B }: { A: string; B: string }): string | null {
  if (A.trim() === '' || B.trim() === '') return SET_UP_WORDS.namesMissing;
  return A.trim() === B.trim() ? SET_UP_WORDS.namesSame : null;
}

/** The rig check that still holds: one made today, with the switches that are bound. */
export function todaysCheck({ rigCheck }: StationSettings): RigCheck | null {
  return rigCheck !== null && 'at' in rigCheck && isToday(rigCheck.at) ? rigCheck : null;
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

/** A plan is chosen: a slow one is a first contact, looked at with the wider tolerance. */
export function withPlanChosen(id: string | null, plan: Plan | null): Partial<StationSettings> {
  if (plan === null) return { plan: null };
  return { plan: id, tolerance: openingTempo(plan) > CYCLE_MS ? 'first' : 'standard' };
}

/** What the plan's first legs say stands in place of what was chosen without one. */
export function asPlanned(settings: StationSettings, plan: Plan | null): StationSettings {
  if (plan === null) return settings;
  const { legs } = plan;
  const [first] = legs;
  if (first === undefined || !('compressor' in first)) return settings;
  const practise = first.kind === 'practise' ? first : firstPractise({ legs });
  const { compressor, airway } = first;
  const isNamed = compressor === 'A' || compressor === 'B';
  return {
    ...settings,
    airway,
    guidance: first.kind === 'practise' ? first.guidance : 'unled',
    technique: practise?.technique ?? settings.technique,
    stance: practise?.stance ?? settings.stance,
    roles: isNamed ? { compressor, ventilator: compressor === 'A' ? 'B' : 'A' } : settings.roles,
  };
}

/** The first leg that today's rig check was not made for, though a manikin is wanted and was checked; null: none. */
export function uncheckedLeg(settings: StationSettings, { legs }: Plan): PractiseLeg | null {
  const check = todaysCheck(settings);
  if (settings.rig !== 'manikin' || check?.outcome !== 'passed') return null;
  const practised = legs.flatMap((leg) => (leg.kind === 'practise' ? [leg] : []));
  return practised.find((leg) => !isCheckedFor(check, leg)) ?? null;
}

function openingTempo(plan: Plan): number {
  return firstPractise(plan)?.cycleMs ?? CYCLE_MS;
}

/** The drill that these settings ask for. A manikin rig that was not checked for it today is a rhythm rig. */
export function drillSetupOf(
  chosenSettings: StationSettings,
  timesOf: (binding: SwitchBinding) => SwitchTimes,
  plan: Plan | null = null,
): DrillSetup {
  const settings = asPlanned(chosenSettings, plan);
  const chosenCycleMs = settings.tempo === 'slow' ? SLOW_CYCLE_MS : CYCLE_MS;
  const {
    switches,
    boundAt: _boundAt,
    rigCheck: _check,
    switchCheck,
    isBegunByHolding: _holding,
    instructorKeys: _keys,
    rig: _rig,
    sound: _sound,
    stations: _stations,
    plan: _plan,
    dueAfterDays: _due,
    tempo: _tempo,
    language: _language,
    cautionsReadAt: _read,
    ...chosen
  } = settings;
  return {
    ...chosen,
    ...rigOfDrill(settings, todaysCheck(settings)),
    pattern: 'newborn-3-1',
    cycleMs: plan === null ? chosenCycleMs : openingTempo(plan),
    bounceMs: bounceLimitOf(switchCheck),
    ...(switchCheck?.found.switchOffset === undefined
      ? {}
      : { switchOffset: switchCheck.found.switchOffset }),
    people: { A: settings.people.A.trim(), B: settings.people.B.trim() },
    sources: Object.fromEntries(
      bindingsOf(switches, settings.binding).map(([name, one], index) => [
        name,
        asFound(timesOf(one), switchCheck?.found.sources[index === 0 ? 'chest' : 'airway']),
      ]),
    ),
    ...(plan === null ? {} : { plan }),
  };
}

/** The limit that a check found; the longest there is where it found that no limit will do. */
function bounceLimitOf(switchCheck: StationSettings['switchCheck']): Ms {
  if (switchCheck === null) return BOUNCE_MS;
  const { bounceMs, bounceProblem } = switchCheck.found;
  return bounceMs ?? (bounceProblem === undefined ? BOUNCE_MS : MOST_BOUNCE_MS);
}

/** A source's times as its device tells them, and what a check found to be so. */
function asFound(
  times: SwitchTimes,
  found: FoundOfSwitches['sources']['chest'] | undefined,
): DrillSetup['sources'][string] {
  const stepMs = found?.stepMs ?? times.stepMs;
  return { ...times, stepMs, ...(found?.bounceMs === undefined ? {} : { bounceMs: found.bounceMs }) };
}

/** A file may say what the window would not have taken. */
function areKeysUsable({ instructorKeys, switches }: StationSettings): boolean {
  const taken = [switches.chest, switches.airway];
  return INSTRUCTOR_KEYS.every((key) => {
    const code = instructorKeys[key];
    return code === undefined || choiceRefusalOf(code, key, instructorKeys, taken) === null;
  });
}
