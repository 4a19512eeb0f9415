import type { Guidance } from '../journal.ts';
import { type Language, LEARNERS_WORDS } from './languages.ts';

type Choice = { label: string; note?: string };

/** Words of the count and its sound on Set-up. */
export const SOUND_WORDS = {
  guidance: 'Count',
  tempo: 'Tempo',
  stations: 'Stations in this room',
  sound: 'Sound',
  pitch: 'This station’s tick',
  pitchOf: (pitch: number) => ['low', 'middle low', 'middle high', 'high'][pitch - 1] ?? String(pitch),
  volume: 'Volume',
  language: 'What the learners read and hear',
  exercises: 'Before the first drill',
  once: 'Hear the count',
  spoken: 'Speak it without hands',
  spokenNote:
    'The voice says it twice; then the tick goes on for eight cycles, and both say every word aloud, hands off the switches.',
  spokenNoteShown: 'The words are shown for ten cycles: both say every one aloud, hands off the switches.',
  stop: 'Stop',
  troubles: 'The sound',
  loading: 'Loading the sounds …',
  weaning: 'When a weaned count falls silent and returns',
  silentAfter: 'Silent after',
  returnsAfter: 'Back after',
  coordinated: 'coordinated cycles of',
  notCoordinated: 'not coordinated, of',
  least: 'Either way for at least',
  seconds: 'seconds',
  weaningNote: 'Tool defaults: 8 of 10, 3 of 5, 15 seconds.',
} as const;

export const GUIDANCE_CHOICES: Record<Guidance, Choice> = {
  weaned: {
    label: 'Weaned',
    note: 'The count is given, falls silent once the pair is steady, and returns when the rhythm is lost.',
  },
  led: { label: 'Led', note: 'The count is given throughout.' },
  unled: { label: 'Unled', note: 'No count: the compressor’s own voice is the count.' },
};
export const TEMPO_CHOICES: Record<'usual' | 'slow', Choice> = {
  usual: { label: 'Usual: two seconds a cycle' },
  slow: {
    label: 'Slow, for first contact: three seconds a cycle',
    note: 'Two thirds of the guideline’s rate, spoken by the voice, with the wider tolerance. It is marked as slow and stands in no headline.',
  },
};
export const STATIONS_CHOICES: Record<'one' | 'several', Choice> = {
  one: { label: 'One' },
  several: {
    label: 'Several',
    note: 'Counts of other stations mislead, so unled is the default here. If a count is wanted, give each station a tick of its own.',
  },
};
export const SOUND_CHOICES: Record<'on' | 'off', Choice> = {
  on: { label: 'Heard and shown' },
  off: {
    label: 'Only shown',
    note: 'For who cannot hear it, or where it must be quiet: the learners’ view shows every beat.',
  },
};

export const LANGUAGE_CHOICES: Record<Language, Choice> = {
  english: choiceOf('english'),
  german: choiceOf('german'),
};

/** What is wrong with the sound, and what to do; the drill works all the same. */
export const SOUND_TROUBLES = {
  'no-web-audio': 'This browser can play no sound. The count is shown, and the drill works.',
  'no-device':
    'The browser lists no loudspeaker. If you hear the count all the same, never mind; else plug one in. The count is shown too, and the drill works.',
  'audio-blocked':
    'Sound waits for a first key or click in this window. Press any key; until then the count is only shown.',
  'device-lost':
    'The sound has stopped: the loudspeaker may have been unplugged or be used by another program. It is tried again; meanwhile the count is shown, and the drill works.',
  'sound-missing':
    'A sound file is missing, so a count or a warning that needs it is only shown. Install the station again to have it back; the drill works.',
  'sound-corrupt':
    'A sound file is damaged, so a count or a warning that needs it is only shown. Install the station again to have it back; the drill works.',
  'page-late': 'The computer was busy for too long and some beats of the count were left out.',
} as const;

function choiceOf(language: Language): Choice {
  const { name, note } = LEARNERS_WORDS[language];
  return note === '' ? { label: name } : { label: name, note };
}
