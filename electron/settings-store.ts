import { copyFile, mkdir, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import { parseArgument } from './arguments.ts';
import type { Failure, Result, StationSettings } from './contract.ts';
import { codeOf, diskFailure } from './disk-failure.ts';
import { isKnownVersion, SETTINGS_VERSION, toThisVersion } from './settings-versions.ts';
import { writeWholeFile } from './whole-file.ts';

type Stored =
  | { kind: 'settings'; settings: StationSettings; version: number }
  | { kind: 'none' }
  | { kind: 'bad' }
  | { kind: 'newer' };

/**
 * What Set-up remembers, in one JSON file: `{"version":4,"settings":{…}}`. Saved to a temporary file that is
 * then renamed. A file that is no settings is put aside as `….bad` when new ones are saved; a newer one stays.
 */
export class SettingsStore {
  private readonly path: string;
  private saving: Promise<unknown> = Promise.resolve();
  /** What could not be saved: until the station ends, its other window and a page that is loaded anew have it from here. */
  private unsaved: StationSettings | null = null;

  constructor(path: string) {
    this.path = path;
  }

  /** Null when nothing usable is remembered. */
  async load(): Promise<StationSettings | null> {
    if (this.unsaved !== null) return this.unsaved;
    const stored = await this.readStored();
    return stored.kind === 'settings' ? stored.settings : null;
  }

  save(settings: StationSettings): Promise<Result<null>> {
    const saved = this.saving.then(async () => {
      const result = await this.write(settings);
      this.unsaved = result.ok ? null : settings;
      return result;
    });
    this.saving = saved;
    return saved;
  }

  private async write(settings: StationSettings): Promise<Result<null>> {
    try {
      const stored = await this.readStored();
      if (stored.kind === 'newer') return newerVersion();
      if (stored.kind === 'bad') await rename(this.path, `${this.path}.bad`);
      // An older release's settings are kept beside, for who goes back to it.
      if (stored.kind === 'settings' && stored.version < SETTINGS_VERSION) {
        await copyFile(this.path, `${this.path}.version-${stored.version}`);
      }
      await mkdir(dirname(this.path), { recursive: true, mode: 0o700 });
      await writeWholeFile(this.path, `${JSON.stringify({ version: SETTINGS_VERSION, settings })}\n`);
      return { ok: true, value: null };
    } catch (error) {
      return { ...diskFailure(error), message: `the settings cannot be saved (${codeOf(error)})` };
    }
  }

  private async readStored(): Promise<Stored> {
    let text: string;
    try {
      text = await readFile(this.path, 'utf8');
    } catch {
      return { kind: 'none' };
    }
    return storedOf(text);
  }
}

/** What a settings file's text holds; never throws. */
function storedOf(text: string): Stored {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { kind: 'bad' };
  }
  if (typeof value !== 'object' || value === null || !('version' in value)) return { kind: 'bad' };
  if (typeof value.version === 'number' && value.version > SETTINGS_VERSION) return { kind: 'newer' };
  if (!isKnownVersion(value.version) || !('settings' in value)) return { kind: 'bad' };
  const parsed = parseArgument['settings:save'](toThisVersion(value.version, value.settings));
  return parsed.ok
    ? { kind: 'settings', settings: parsed.value, version: Number(value.version) }
    : { kind: 'bad' };
}

function newerVersion(): Failure {
  const message = 'the settings were saved by a newer release and are left untouched';
  return { ok: false, code: 'newer-version', message };
}
