import { BEAT_KINDS } from '../../machines/count/beats.ts';
import type { CountSound } from './count-news.ts';
import type { Cue } from './count-run.ts';
import type { SoundCatalogue, SoundFile } from './sound-catalogue.ts';
import { type DecodedSound, type HowlerParts, type LoadFailure, loadSound } from './sound-loader.ts';

/** Words to be said one after the other, by their texts in assets/sounds/calls. */
export type Words = { language: string; texts: readonly string[] };

/** Every sound, decoded once. */
export class SoundShelf {
  private readonly howler: HowlerParts;
  private readonly catalogue: SoundCatalogue;
  private decoded = new Map<string, DecodedSound>();

  constructor(howler: HowlerParts, catalogue: SoundCatalogue) {
    this.howler = howler;
    this.catalogue = catalogue;
  }

  /** Loads every file for a context; says what went wrong. Sounds of an earlier context are gone at once. */
  async fill(context: AudioContext): Promise<Set<LoadFailure>> {
    const decoded = new Map<string, DecodedSound>();
    this.decoded = decoded;
    const failures = new Set<LoadFailure>();
    // A word that stands in the count four times is one file.
    const files = new Map(this.files().map((file) => [file.url, file]));
    await Promise.all(
      [...files.values()].map(async (file) => {
        const loaded = await loadSound(this.howler, context, file);
        if (loaded.ok) decoded.set(file.url, loaded.sound);
        else failures.add(loaded.code);
      }),
    );
    return failures;
  }

  /** A cycle's cues in their order; null where one of them is not there: half a count would mislead. */
  cuesOf(sound: CountSound): readonly Cue[] | null {
    const cues: Cue[] = [];
    for (const { beat, file } of this.placesOf(sound)) {
      const decoded = this.decoded.get(file.url);
      if (decoded === undefined) return null;
      cues.push({ beat, sound: decoded });
    }
    return cues.length === 0 ? null : cues.sort((one, other) => one.beat - other.beat);
  }

  /** Words in their order; null where one of them is not there: half a warning would mislead too. */
  wordsOf({ language, texts }: Words): readonly DecodedSound[] | null {
    const known = this.catalogue.calls.find((one) => one.language === language)?.words ?? [];
    const sounds = texts.flatMap((text) => {
      const file = known.find((word) => word.text === text);
      const decoded = file === undefined ? undefined : this.decoded.get(file.url);
      return decoded === undefined ? [] : [decoded];
    });
    return sounds.length === texts.length ? sounds : null;
  }

  heartTap(): DecodedSound | null {
    return this.decoded.get(this.catalogue.heartTap.url) ?? null;
  }

  private placesOf(sound: CountSound): { beat: number; file: SoundFile }[] {
    if (sound.kind === 'voice') {
      const count = this.catalogue.counts.find(({ language }) => language === sound.language);
      return (count?.words ?? []).map((word) => ({ beat: word.beat, file: word }));
    }
    const files = this.catalogue.ticks.find(({ pitch }) => pitch === sound.pitch);
    if (files === undefined) return [];
    return BEAT_KINDS.map((kind, beat) => ({ beat, file: kind === 'breathe' ? files.breath : files.tick }));
  }

  private files(): SoundFile[] {
    const { ticks, counts, calls, heartTap } = this.catalogue;
    return [
      ...ticks.flatMap(({ tick, breath }) => [tick, breath]),
      ...counts.flatMap(({ words }) => words),
      ...calls.flatMap(({ words }) => words),
      heartTap,
    ];
  }
}
