import { FIRST_SETTINGS, type StationSettings, type SwitchBinding } from '../../electron/contract.ts';
import { guidelineOf } from '../../machines/pattern.ts';
import { READY_MADE, type ReadyMadeName } from '../../machines/plans/ready-made.ts';
import { GUIDELINE_WORDS } from '../../machines/words/guideline-table.ts';
import { INSTRUCTOR_KEY_WORDS } from '../../machines/words/instructor-keys.ts';
import { PLANS_WORDS } from '../../machines/words/screen-plans.ts';
import {
  AIRWAY_CHOICES,
  BINDING_CHOICES,
  RIG_CHOICES,
  SET_UP_WORDS,
  STANCE_CHOICES,
  TECHNIQUE_CHOICES,
  TOLERANCE_CHOICES,
} from '../../machines/words/screen-set-up.ts';
import {
  GUIDANCE_CHOICES,
  LANGUAGE_CHOICES,
  SOUND_WORDS,
  STATIONS_CHOICES,
  TEMPO_CHOICES,
} from '../../machines/words/screen-sound.ts';
import { padControlName, SWITCH_WORDS } from '../../machines/words/screen-switches.ts';
import {
  changedKeysWords,
  RIG_CHECK_RESULTS,
  SETTING_LABELS,
  SETTING_PLACES,
  SETTINGS_WORDS,
  soundWords,
  weaningWords,
} from '../../machines/words/settings-words.ts';
import { formatWhen } from '../components/when.ts';

type NameOfKey = (code: string) => string;
type Setting<K extends keyof StationSettings> = {
  label: string;
  /** Where it is changed. */
  place: string;
  /** A name, a switch, or what was found of them: never put back to what it was at first. */
  isOwn?: true;
  words: (value: StationSettings[K], nameOfKey: NameOfKey) => string;
};

/** Every setting of the station: a new one that is left out here does not compile. */
export const SETTINGS_TABLE: { readonly [K in keyof StationSettings]: Setting<K> } = {
  people: {
    label: SET_UP_WORDS.people,
    place: SETTING_PLACES.names,
    isOwn: true,
    words: ({ A, B }) => [A, B].filter((name) => name !== '').join(', ') || SETTINGS_WORDS.none,
  },
  switches: {
    label: SWITCH_WORDS.legend,
    place: SETTING_PLACES.switches,
    isOwn: true,
    words: ({ chest, airway }, nameOfKey) =>
      `${SWITCH_WORDS.chest}: ${switchName(chest, nameOfKey)}; ${SWITCH_WORDS.airway}: ${switchName(airway, nameOfKey)}`,
  },
  boundAt: {
    label: SETTING_LABELS.boundAt,
    place: SETTING_PLACES.switches,
    isOwn: true,
    words: whenWords,
  },
  rigCheck: {
    label: SETTING_LABELS.rigCheck,
    place: SETTING_PLACES.rigCheck,
    isOwn: true,
    words: (check) => {
      if (check === null) return SETTINGS_WORDS.never;
      const when = 'at' in check ? `, ${formatWhen(check.at)}` : '';
      return `${RIG_CHECK_RESULTS[check.outcome]}${when}`;
    },
  },
  switchCheck: {
    label: SETTING_LABELS.switchCheck,
    place: SETTING_PLACES.switchCheck,
    isOwn: true,
    words: (check) => whenWords(check?.at ?? null),
  },
  isBegunByHolding: {
    label: SWITCH_WORDS.holding,
    place: SETTING_PLACES.switches,
    words: (is) => (is ? SETTINGS_WORDS.yes : SETTINGS_WORDS.no),
  },
  instructorKeys: {
    label: INSTRUCTOR_KEY_WORDS.title,
    place: SETTING_PLACES.instructorKeys,
    words: changedKeysWords,
  },
  rig: {
    label: SET_UP_WORDS.rig,
    place: SETTING_PLACES.rig,
    words: (rig) => RIG_CHOICES[rig].label,
  },
  guideline: {
    label: SET_UP_WORDS.guideline,
    place: SETTING_PLACES.guideline,
    words: (name) => {
      const guideline = guidelineOf(name);
      return guideline === null ? name : GUIDELINE_WORDS[guideline.name];
    },
  },
  binding: {
    label: SET_UP_WORDS.binding,
    place: SETTING_PLACES.binding,
    words: (binding) => BINDING_CHOICES[binding].label,
  },
  airway: {
    label: SET_UP_WORDS.airway,
    place: SETTING_PLACES.arrangement,
    words: (airway) => AIRWAY_CHOICES[airway].label,
  },
  tolerance: {
    label: SET_UP_WORDS.tolerance,
    place: SETTING_PLACES.tolerance,
    words: (tolerance) => TOLERANCE_CHOICES[tolerance].label,
  },
  roles: {
    label: SET_UP_WORDS.roles,
    place: SETTING_PLACES.names,
    words: ({ compressor }) => (compressor === 'A' ? SET_UP_WORDS.personA : SET_UP_WORDS.personB),
  },
  technique: {
    label: SET_UP_WORDS.technique,
    place: SETTING_PLACES.arrangement,
    words: (technique) => TECHNIQUE_CHOICES[technique].label,
  },
  stance: {
    label: SET_UP_WORDS.stance,
    place: SETTING_PLACES.arrangement,
    words: (stance) => STANCE_CHOICES[stance].label,
  },
  guidance: {
    label: SOUND_WORDS.guidance,
    place: SETTING_PLACES.count,
    words: (guidance) => GUIDANCE_CHOICES[guidance].label,
  },
  tempo: {
    label: SOUND_WORDS.tempo,
    place: SETTING_PLACES.count,
    words: (tempo) => TEMPO_CHOICES[tempo].label,
  },
  weaning: {
    label: SOUND_WORDS.weaning,
    place: SETTING_PLACES.weaning,
    words: weaningWords,
  },
  stations: {
    label: SOUND_WORDS.stations,
    place: SETTING_PLACES.count,
    words: (stations) => STATIONS_CHOICES[stations].label,
  },
  sound: {
    label: SOUND_WORDS.sound,
    place: SETTING_PLACES.count,
    words: soundWords,
  },
  plan: {
    label: PLANS_WORDS.plan,
    place: SETTING_PLACES.plan,
    words: (plan) => (plan === null ? SETTINGS_WORDS.none : planName(plan)),
  },
  dueAfterDays: {
    label: SETTING_LABELS.dueAfterDays,
    place: SETTING_PLACES.ledger,
    words: (days) => (days === null ? SETTINGS_WORDS.none : SETTINGS_WORDS.days(days)),
  },
  language: {
    label: SOUND_WORDS.language,
    place: SETTING_PLACES.count,
    words: (language) => LANGUAGE_CHOICES[language].label,
  },
  cautionsReadAt: {
    label: SETTING_LABELS.cautionsReadAt,
    place: SETTING_PLACES.cautions,
    isOwn: true,
    words: whenWords,
  },
};

export type SettingRow = {
  key: keyof StationSettings;
  label: string;
  present: string;
  first: string;
  place: string;
  /** What puts it back; null: it is so already, or is never put back. */
  reset: Partial<StationSettings> | null;
};

/** Every setting, as it is and as it was at first. */
export function settingRows(settings: StationSettings, nameOfKey: NameOfKey): SettingRow[] {
  return SETTING_KEYS.map((key) => rowOf(key, settings, nameOfKey));
}

/** All that is not a name, a switch or what was found of them, as at first. */
export function allAsAtFirst(settings: StationSettings, nameOfKey: NameOfKey): Partial<StationSettings> {
  return Object.assign({}, ...settingRows(settings, nameOfKey).map(({ reset }) => reset ?? {}));
}

const SETTING_KEYS = Object.keys(SETTINGS_TABLE) as (keyof StationSettings)[];

function rowOf<K extends keyof StationSettings>(
  key: K,
  settings: StationSettings,
  nameOfKey: NameOfKey,
): SettingRow {
  const { label, place, isOwn, words }: Setting<K> = SETTINGS_TABLE[key];
  const present = words(settings[key], nameOfKey);
  const first = words(FIRST_SETTINGS[key], nameOfKey);
  return {
    key,
    label,
    present,
    first,
    place,
    reset: isOwn === true || present === first ? null : { [key]: FIRST_SETTINGS[key] },
  };
}

function switchName(binding: SwitchBinding, nameOfKey: NameOfKey): string {
  return binding.kind === 'key' ? nameOfKey(binding.code) : padControlName(binding);
}

function whenWords(at: string | null): string {
  return at === null ? SETTINGS_WORDS.never : formatWhen(at);
}

/** One of the station's own is known by its file. */
function planName(id: string): string {
  return Object.hasOwn(READY_MADE, id) ? READY_MADE[id as ReadyMadeName].name : id;
}
