/**
 * Settings files of older releases, brought to this one's form. Pure; the result is still unchecked.
 * Version 1 had two keys and nothing else for switches: `"keys":{"chest":"KeyX","airway":"Period"}`.
 * Version 2 had no `instructorKeys`: they could not be changed.
 * Version 3 had no `language`, which was English, no `cautionsReadAt`: nobody had been asked to read them, and no `dueAfterDays`.
 */
export const SETTINGS_VERSION = 4;

type Settings = Record<string, unknown>;

/** The step from each older version to the one after it. */
const STEPS: ReadonlyMap<unknown, (settings: Settings) => Settings> = new Map([
  [1, withSwitches],
  [2, (settings) => ({ ...settings, instructorKeys: {} })],
  [3, (settings) => ({ ...settings, language: 'english', cautionsReadAt: null, dueAfterDays: null })],
]);

export function toThisVersion(version: unknown, settings: unknown): unknown {
  if (!isRecord(settings)) return settings;
  let brought = settings;
  for (let at = Number(version); at < SETTINGS_VERSION; at += 1)
    brought = STEPS.get(at)?.(brought) ?? brought;
  return brought;
}

export function isKnownVersion(version: unknown): boolean {
  return version === SETTINGS_VERSION || STEPS.has(version);
}

function withSwitches(settings: Settings): Settings {
  if (!isRecord(settings.keys)) return settings;
  const { keys, ...kept } = settings;
  return {
    ...kept,
    switches: {
      chest: { kind: 'key', code: keys.chest },
      airway: { kind: 'key', code: keys.airway },
    },
    boundAt: null,
    rigCheck: null,
    switchCheck: null,
    isBegunByHolding: false,
  };
}

function isRecord(value: unknown): value is Settings {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
