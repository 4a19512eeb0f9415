/// <reference types="vite/client" />

/** A sound's file: where it is, the sample on which it is heard to fall, and its length, both at 48 kHz. */
export type SoundFile = { url: string; onset: number; samples: number };
export type TickFiles = { pitch: number; hertz: number; tick: SoundFile; breath: SoundFile };
/** A word of a spoken count; `beat` is its place in the cycle, 0 is "one" and 0.5 the "and" after it. */
export type CountWord = SoundFile & { text: string; beat: number };
export type CountText = { language: string; name: string; words: readonly CountWord[] };
/** Words that tell what is about to be called, each by its text. */
export type CallsText = { language: string; words: readonly (SoundFile & { text: string })[] };
export type SoundCatalogue = {
  ticks: readonly TickFiles[];
  heartTap: SoundFile;
  counts: readonly CountText[];
  calls: readonly CallsText[];
};

/** The rate of the files, in which their onsets and lengths are given. */
export const FILE_RATE = 48_000;

type Stored<T> = Omit<T, 'url'> & { file: string };
type StoredSounds = {
  ticks: readonly { pitch: number; hertz: number; tick: Stored<SoundFile>; breath: Stored<SoundFile> }[];
  heartTap: Stored<SoundFile>;
};
type StoredCount = { language: string; name: string; words: readonly Stored<CountWord>[] };
type StoredCalls = { language: string; words: readonly Stored<CallsText['words'][number]>[] };

const FOLDER = '../../assets/sounds/';
const URLS = import.meta.glob<string>('../../assets/sounds/**/*.wav', {
  eager: true,
  query: '?url',
  import: 'default',
});
const SOUNDS = import.meta.glob<StoredSounds>('../../assets/sounds/sounds.json', {
  eager: true,
  import: 'default',
});
const COUNTS = import.meta.glob<StoredCount>('../../assets/sounds/counts/*.json', {
  eager: true,
  import: 'default',
});

const CALLS = import.meta.glob<StoredCalls>('../../assets/sounds/calls/*.json', {
  eager: true,
  import: 'default',
});

/** Every sound of the station. A language is a file in counts/ and one in calls/, and their words' sounds: found without code. */
export function readCatalogue(): SoundCatalogue {
  const sounds = SOUNDS[`${FOLDER}sounds.json`];
  if (sounds === undefined) throw new Error('The sounds are not built into the page.');
  return {
    ticks: sounds.ticks.map(({ pitch, hertz, tick, breath }) => ({
      pitch,
      hertz,
      tick: withUrl(tick),
      breath: withUrl(breath),
    })),
    heartTap: withUrl(sounds.heartTap),
    counts: Object.values(COUNTS).map(({ language, name, words }) => ({
      language,
      name,
      words: words.map((word) => ({ text: word.text, beat: word.beat, ...withUrl(word) })),
    })),
    calls: Object.values(CALLS).map(({ language, words }) => ({
      language,
      words: words.map((word) => ({ text: word.text, ...withUrl(word) })),
    })),
  };
}

/** A file that was left out of the build gets an address that answers "not found", as any missing file does. */
function withUrl({ file, onset, samples }: Stored<SoundFile>): SoundFile {
  return { url: URLS[`${FOLDER}${file}`] ?? file, onset, samples };
}
