import { readFileSync } from 'node:fs';

/** What the sounds' own data say of a file. */
export type SoundData = { file: string; onset: number; samples: number };
export type CountData = {
  language: string;
  name: string;
  words: (SoundData & { text: string; beat: number })[];
};
export type SoundsData = {
  sampleRate: number;
  ticks: { pitch: number; hertz: number; tick: SoundData; breath: SoundData }[];
  heartTap: SoundData;
  english: CountData;
  german: CountData;
  calls: CallsData;
  germanCalls: CallsData;
};
type CallsData = { language: string; words: (SoundData & { text: string })[] };

export const SOUNDS_FOLDER = new URL('../../assets/sounds/', import.meta.url);

export function readSounds(): SoundsData {
  return {
    ...readJson('sounds.json'),
    english: readJson('counts/english.json'),
    german: readJson('counts/german.json'),
    calls: readJson('calls/english.json'),
    germanCalls: readJson('calls/german.json'),
  } as SoundsData;
}

/** Where a sound's first sample stands, so that it is heard to fall on a frame; by the name a recording gives it. */
export function startFrameOf(sounds: SoundsData, name: string, frame: number, sampleRate: number): number {
  const data = allSounds(sounds).find(({ file }) => file.endsWith(`/${name}.wav`));
  if (data === undefined) throw new Error(`no such sound: ${name}`);
  return frame - Math.round((data.onset * sampleRate) / sounds.sampleRate);
}

export function allSounds(sounds: SoundsData): SoundData[] {
  const { ticks, heartTap, english, german, calls, germanCalls } = sounds;
  const words = [english, german, calls, germanCalls].flatMap((one): SoundData[] => one.words);
  return [...ticks.flatMap(({ tick, breath }) => [tick, breath]), heartTap, ...words];
}

function readJson(name: string): object {
  return JSON.parse(readFileSync(new URL(name, SOUNDS_FOLDER), 'utf8'));
}
