import type { SoundCatalogue } from '../../../renderer/sound/sound-catalogue.ts';

/** `count` is the tap's own count of samples, `shownFrame` the context's frame as the tap was shown it. */
type Chunk = { count: number; shownFrame: number; length: number; samples: Float32Array | null };
/** A sound's file name without folder, ending and hash, and the frame at which its first sample stands. */
export type Cue = { file: string; startFrame: number };

/** A start time within a millionth of a sample of its frame leaves a trace of interpolation, some 1e-12. */
const SILENCE = 1e-9;

/** What the tap heard, against what a plan says: sample by sample, with sounds decoded apart from the player. */
export class Recording {
  private readonly catalogue: SoundCatalogue;
  private chunks: Chunk[] = [];
  private decoded = new Map<string, Float32Array>();

  constructor(catalogue: SoundCatalogue) {
    this.catalogue = catalogue;
  }

  take(chunk: Chunk): void {
    this.chunks.push(chunk);
  }

  forget(): void {
    this.chunks = [];
  }

  /** Decodes every sound with the browser alone. */
  async decode(context: BaseAudioContext): Promise<void> {
    for (const [name, url] of this.files()) {
      const buffer = await context.decodeAudioData(await (await fetch(url)).arrayBuffer());
      this.decoded.set(name, buffer.getChannelData(0).slice());
    }
  }

  /** First and last frame recorded, and how many the tap was not given between its two halves. */
  get span(): { from: number; to: number; lost: number } {
    const [first] = this.chunks;
    const last = this.chunks.at(-1);
    if (first === undefined || last === undefined) return { from: 0, to: 0, lost: 0 };
    const half = Math.ceil(this.chunks.length / 2);
    const lost = offsetOf(this.chunks.slice(half)) - offsetOf(this.chunks.slice(0, half));
    const offset = offsetOf(this.chunks);
    return { from: first.count + offset, to: last.count + last.length + offset, lost };
  }

  /** Where each sound begins after at least 50 ms of silence: which sound it is, and its first sample's frame. */
  onsets(sampleRate: number): Cue[] {
    const samples = this.samples();
    const { from } = this.span;
    const onsets: Cue[] = [];
    let silent = sampleRate;
    for (const [index, sample] of samples.entries()) {
      if (Math.abs(sample) > SILENCE && silent >= sampleRate / 20)
        onsets.push(this.nameOnset(samples, index, from));
      silent = Math.abs(sample) > SILENCE ? 0 : silent + 1;
    }
    return onsets;
  }

  /** The largest difference between a sample that was heard and the sum of the cues that were planned. */
  difference(cues: readonly Cue[]): number {
    const { from } = this.span;
    const left = this.samples();
    for (const { file, startFrame } of cues) {
      const sound = this.decoded.get(file) ?? new Float32Array(0);
      for (const [index, sample] of sound.entries()) {
        const place = startFrame - from + index;
        if (place >= 0 && place < left.length) left[place] = (left[place] ?? 0) - sample;
      }
    }
    return left.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  }

  private samples(): Float32Array {
    const { from, to } = this.span;
    const all = new Float32Array(to - from);
    const offset = offsetOf(this.chunks);
    for (const { count, samples } of this.chunks) {
      if (samples !== null) all.set(samples, count + offset - from);
    }
    return all;
  }

  /** The sound whose samples stand exactly here; "?" where none does. */
  private nameOnset(samples: Float32Array, index: number, from: number): Cue {
    for (const [file, sound] of this.decoded) {
      const start = index - sound.findIndex((sample) => sample !== 0);
      const heard = samples.subarray(start, start + Math.min(1500, sound.length));
      const isSame = heard.every((sample, place) => Math.abs(sample - (sound[place] ?? 0)) < 1e-6);
      if (start >= 0 && isSame) return { file, startFrame: from + start };
    }
    return { file: '?', startFrame: from + index };
  }

  private files(): Map<string, string> {
    const { ticks, counts, calls, heartTap } = this.catalogue;
    const files = new Map<string, string>([['heart-tap', heartTap.url]]);
    for (const { pitch, tick, breath } of ticks) {
      files.set(`tick-${pitch}`, tick.url).set(`breath-${pitch}`, breath.url);
    }
    for (const { words } of [...counts, ...calls]) for (const { text, url } of words) files.set(text, url);
    return files;
  }
}

/** What to add to the tap's count for the context's frame: the median over chunks, since single ones are shown wrong. */
function offsetOf(chunks: readonly Chunk[]): number {
  const offsets = chunks.map(({ count, shownFrame }) => shownFrame - count).sort((one, other) => one - other);
  return offsets[Math.floor(offsets.length / 2)] ?? 0;
}
