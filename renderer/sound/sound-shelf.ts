import { BEAT_KINDS } from '../../machines/count/beats.ts';
import { LEARNERS_WORDS } from '../../machines/words/languages.ts';
import type { CountSound } from './count-news.ts';
import type { Cue } from './count-run.ts';
import type { SoundCatalogue, SoundFile } from './sound-catalogue.ts';
import { type DecodedSound, type HowlerParts, type LoadFailure, loadSound } from './sound-loader.ts';

/** Words to be said one after the other, by their texts in assets/sounds/calls. */
export type Words = { language: string; texts: readonly string[] };

/** Its words are loaded with the ticks; those of others after them. */
const FIRST_LANGUAGE = LEARNERS_WORDS.english.code;

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
    const take = async (file: SoundFile) => {
      const loaded = await loadSound(this.howler, context, file);
      if (loaded.ok) decoded.set(file.url, loaded.sound);
      else failures.add(loaded.code);
    };
    const [first, later] = this.files();
    await Promise.all(first.map(take));
    // One by one: many at once take the computer's time while a new context's clock is being read.
    for (const file of later) await take(file);
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

  /** What every station needs, and the words of other languages than the first; each file once, however often its word is said. */
  private files(): [SoundFile[], SoundFile[]] {
    const { ticks, counts, calls, heartTap } = this.catalogue;
    const wordsOf = (isWanted: (language: string) => boolean) =>
      [...counts, ...calls].flatMap(({ language, words }): SoundFile[] =>
        isWanted(language) ? [...words] : [],
      );
    const needed = [...ticks.flatMap(({ tick, breath }) => [tick, breath]), heartTap];
    return [
      eachOnce([...needed, ...wordsOf((language) => language === FIRST_LANGUAGE)]),
      eachOnce(wordsOf((language) => language !== FIRST_LANGUAGE)),
    ];
  }
}

function eachOnce(files: readonly SoundFile[]): SoundFile[] {
  return [...new Map(files.map((file) => [file.url, file])).values()];
}
