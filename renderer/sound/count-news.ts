import type { CountAnchor } from '../../machines/count/beats.ts';
import type { Ms } from '../../machines/units.ts';

/**
 * What can be wrong with the sound; the words for it are the screens'.
 * no-web-audio: the browser gives no audio at all. no-device: no loudspeaker is connected. audio-blocked: the browser
 * waits for a key or a click. device-lost: sound ran and has stopped. sound-missing, sound-corrupt: a file could not
 * be fetched, or not be decoded. page-late: the page was busy for longer than the cues reach, and beats were left out.
 */
export type SoundTrouble =
  | 'no-web-audio'
  | 'no-device'
  | 'audio-blocked'
  | 'device-lost'
  | 'sound-missing'
  | 'sound-corrupt'
  | 'page-late';

/**
 * Where the count stands, for the journal. Times are drill ms at which the beat is heard: the latency the browser
 * knows of is in them, what it does not know of (a wireless loudspeaker's) is not.
 */
export type CountStanding = {
  /** A "one"; its cycle is in drill ms as measured, which is the nominal length but for the clocks' drift. */
  anchor: CountAnchor;
  /** What the browser reports, in ms; null where it does not say. */
  outputLatencyMs: Ms | null;
  baseLatencyMs: Ms | null;
  /** Half the width of the 95 % interval of the anchor's time; what is wrong with the reported latency is not in it. */
  errorMs: Ms;
};

export type CountNews =
  | ({ type: 'started' } & CountStanding)
  /** From this "one" on, beats are computed anew; those before it stay as they were said. */
  | ({ type: 're-anchored' } & CountStanding)
  /** The last beat that is heard, which may be still to come; null where none was. */
  | { type: 'stopped'; lastBeatMs: Ms | null }
  /** Loudspeakers were plugged in or out. */
  | { type: 'device changed' }
  | { type: 'trouble'; code: SoundTrouble }
  | { type: 'trouble over'; code: SoundTrouble };

export type CountSound = { kind: 'tick'; pitch: number } | { kind: 'voice'; language: string };
