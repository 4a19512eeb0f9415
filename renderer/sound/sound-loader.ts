import type { Frame } from '../../machines/count/sample-grid.ts';
import { FILE_RATE, type SoundFile } from './sound-catalogue.ts';

/** What is used of Howler; `howler` the package provides both. */
export type HowlerParts = { Howler: HowlerLike; Howl: new (options: HowlOptionsLike) => HowlLike };
export type HowlerLike = {
  ctx: AudioContext | null;
  masterGain: GainNode | null;
  noAudio: boolean;
  usingWebAudio: boolean;
  autoSuspend: boolean;
  autoUnlock: boolean;
  /** Without a volume it says the volume. Either way it makes a context where there is none. */
  volume: { (): number; (volume: number): unknown };
};
type HowlOptionsLike = {
  src: string[];
  format: string[];
  html5: boolean;
  onload: () => void;
  onloaderror: (id: number, error: unknown) => void;
};
type HowlLike = { unload: () => unknown };

/** A sound as the audio context plays it; its onset is in samples of the context's own rate. */
export type DecodedSound = { buffer: AudioBuffer; onsetFrames: Frame };
export type LoadFailure = 'sound-missing' | 'sound-corrupt';
export type Loaded = { ok: true; sound: DecodedSound } | { ok: false; code: LoadFailure };

/** A decoded file may be so much longer or shorter than was said, since decoders resample; our choice. */
const LENGTH_TOLERANCE_S = 0.01;

/** Howler's context, and its master gain. */
export type Audio = { context: AudioContext; output: GainNode };

/** Howler's context, awake and ours to rule; null where the browser has no audio. */
export function openAudio({ Howler }: HowlerParts): Audio | null {
  // It would sleep after 30 s of silence and the next beat would come late.
  Howler.autoSuspend = false;
  // Its own unlocking closes the context and makes another at any rate but 44.1 kHz; ours is in audio-watch.ts.
  Howler.autoUnlock = false;
  Howler.volume();
  const { ctx: context, masterGain: output } = Howler;
  if (!Howler.usingWebAudio || Howler.noAudio || context === null || output === null) return null;
  return { context, output };
}

/** A new context in place of one that is closed or stands still. The volume stays. */
export function reopenAudio(howler: HowlerParts): Audio | null {
  const old = howler.Howler.ctx;
  // Howler's own `unload` would leave a rejected promise behind where the context is closed already.
  if (old !== null && old.state !== 'closed') old.close().catch(() => undefined);
  howler.Howler.ctx = null;
  return openAudio(howler);
}

/** Howler fetches and decodes a file. Resolves always; a file that never answers never resolves. */
export function loadSound({ Howl }: HowlerParts, context: AudioContext, file: SoundFile): Promise<Loaded> {
  return new Promise((resolve) => {
    const howl = new Howl({
      src: [file.url],
      format: ['wav'],
      html5: false,
      onload: () => {
        const buffer = takeBuffer(howl);
        // The decoded sound is kept here; Howler need not.
        howl.unload();
        const isWhole = buffer !== null && isAsLong(buffer, file);
        const onsetFrames = Math.round((file.onset * context.sampleRate) / FILE_RATE);
        resolve(
          isWhole ? { ok: true, sound: { buffer, onsetFrames } } : { ok: false, code: 'sound-corrupt' },
        );
      },
      onloaderror: (_id, error) => {
        const isCorrupt = typeof error === 'string' && error.startsWith('Decoding');
        resolve({ ok: false, code: isCorrupt ? 'sound-corrupt' : 'sound-missing' });
      },
    });
  });
}

function isAsLong(buffer: AudioBuffer, file: SoundFile): boolean {
  return Math.abs(buffer.duration - file.samples / FILE_RATE) <= LENGTH_TOLERANCE_S;
}

/**
 * The buffer that Howler decoded. It keeps it to itself: `_refreshBuffer`, which it calls before it plays a sound,
 * puts it on the sound's own node. Howler's version is pinned, and a browser test notices if this goes.
 */
function takeBuffer(howl: object): AudioBuffer | null {
  const { _sounds: sounds, _refreshBuffer: refresh } = howl as {
    _sounds?: { _node?: { bufferSource?: { buffer: AudioBuffer | null } } }[];
    _refreshBuffer?: (sound: object) => unknown;
  };
  const sound = sounds?.[0];
  if (sound === undefined || refresh === undefined) return null;
  refresh.call(howl, sound);
  return sound._node?.bufferSource?.buffer ?? null;
}
