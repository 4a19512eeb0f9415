import { mkdir, open, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import * as v from 'valibot';
import type { WindowRole } from './contract.ts';

/** In the system's own points, from the top left of the first display. */
export type Area = { x: number; y: number; width: number; height: number };
export type Place = Area & { isMaximized: boolean };
type Places = Partial<Record<WindowRole, Place>>;

/** In the data folder. What begins with `window-` there is a browser's, and is cleared away. */
export const PLACES_FILE = 'places.json';
const VERSION = 1;
/** No display is wider; what is beyond is damage (our choice). */
const Point = v.pipe(v.number(), v.integer(), v.minValue(-100_000), v.maxValue(100_000));
const Length = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(100_000));
const PlaceSchema = v.strictObject({
  x: Point,
  y: Point,
  width: Length,
  height: Length,
  isMaximized: v.boolean(),
});
const FileSchema = v.strictObject({
  version: v.literal(VERSION),
  places: v.strictObject({
    instructor: v.exactOptional(PlaceSchema),
    learners: v.exactOptional(PlaceSchema),
  }),
});

/** So much of the title bar must be on a display for a window to be caught and moved (our choice). */
const GRIP = { width: 120, height: 32 };

/**
 * Where a window may be put: the place it had, cut to the display it is on; null when its title bar would be on no display,
 * as when a second screen was taken away.
 */
export function placeOn(place: Place, workAreas: readonly Area[]): Place | null {
  for (const area of workAreas) {
    const left = Math.max(place.x, area.x);
    const right = Math.min(place.x + place.width, area.x + area.width);
    const isTopOn = place.y >= area.y && place.y + GRIP.height <= area.y + area.height;
    if (!isTopOn || right - left < GRIP.width) continue;
    return {
      ...place,
      width: Math.min(place.width, area.width),
      height: Math.min(place.height, area.height),
    };
  }
  return null;
}

/** Where each window was last, in one JSON file. What cannot be read or saved is not remembered, and no trouble to anyone. */
export class WindowPlaces {
  private readonly path: string;
  private readonly places: Places;
  private saving: Promise<void> = Promise.resolve();

  private constructor(path: string, places: Places) {
    this.path = path;
    this.places = places;
  }

  static async open(path: string): Promise<WindowPlaces> {
    return new WindowPlaces(path, placesIn(await readFile(path, 'utf8').catch(() => '')));
  }

  of(role: WindowRole): Place | null {
    return this.places[role] ?? null;
  }

  note(role: WindowRole, place: Place): void {
    this.places[role] = place;
    const text = `${JSON.stringify({ version: VERSION, places: this.places })}\n`;
    this.saving = this.saving.then(() => writeThenRename(this.path, text).catch(() => undefined));
  }

  /** Waits until what was noted is on the disk, or could not be put there. */
  settle(): Promise<void> {
    return this.saving;
  }
}

function placesIn(text: string): Places {
  try {
    const parsed = v.safeParse(FileSchema, JSON.parse(text));
    return parsed.success ? parsed.output.places : {};
  } catch {
    return {};
  }
}

async function writeThenRename(path: string, text: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  const file = await open(`${path}.new`, 'w', 0o600);
  try {
    await file.writeFile(text, 'utf8');
    await file.sync();
  } finally {
    await file.close();
  }
  await rename(`${path}.new`, path);
}
