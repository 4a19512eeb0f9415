/**
 * Settings files of older releases, brought to this one's form. Pure; the result is still unchecked.
 * Version 1 had two keys and nothing else for switches: `"keys":{"chest":"KeyX","airway":"Period"}`.
 */
export const SETTINGS_VERSION = 2;

export function toThisVersion(version: unknown, settings: unknown): unknown {
  if (version !== 1 || !isRecord(settings) || !isRecord(settings.keys)) return settings;
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

export function isKnownVersion(version: unknown): boolean {
  return version === 1 || version === SETTINGS_VERSION;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
