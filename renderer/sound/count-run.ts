import { BEAT_KINDS } from '../../machines/count/beats.ts';
import type { Seconds } from '../../machines/count/clock-fit.ts';
import {
  cycleAtOrAfter,
  type Frame,
  frameOfBeat,
  type SampleGrid,
} from '../../machines/count/sample-grid.ts';
import type { Audio, DecodedSound } from './sound-loader.ts';

/** A sound and its place in the cycle, in beats from "one". */
export type Cue = { beat: number; sound: DecodedSound };
/** Beats that were left out: the last before them, null where none was, and the cycle with whose "one" it goes on. */
export type Gap = { lastFrame: Frame | null; nextCycle: number };
type QueuedCue = { source: AudioBufferSourceNode; startFrame: Frame; beatFrame: Frame };

/** A cue whose start is nearer than this may already be rendered: it is neither queued nor taken back. */
export const SAFE_LEAD_S: Seconds = 0.03;

/** Played cues are remembered for so long, to know which beat was the last: longer than any beat lasts. */
const PLAYED_KEPT_S: Seconds = 10;

/**
 * One count from its first "one" to its end: cues at exact samples of the context's clock. A cue that would come late
 * is left out with the rest of its cycle: a beat missed is better than a beat moved, and a count begins at a "one".
 */
export class CountRun {
  private readonly audio: Audio;
  private readonly grid: SampleGrid;
  private readonly cues: readonly Cue[];
  private queued: QueuedCue[] = [];
  private next = 0;
  private endFrame = Number.POSITIVE_INFINITY;

  constructor(audio: Audio, grid: SampleGrid, cues: readonly Cue[]) {
    this.audio = audio;
    this.grid = grid;
    this.cues = cues;
  }

  /** Queues every cue that starts before a frame; returns the gap if some had to be left out because they were late. */
  queueUntil(frame: Frame): Gap | null {
    this.forgetPlayed();
    let gap: Gap | null = null;
    while (this.cues.length > 0 && !this.isOver) {
      const { startFrame, beatFrame, sound } = this.placeOf(this.next);
      if (startFrame >= frame || beatFrame > this.endFrame) break;
      if (startFrame >= this.safeFrame) {
        this.queue(sound, startFrame, beatFrame);
        this.next += 1;
      } else {
        const cycle = cycleAtOrAfter(this.grid, this.safeFrame + this.longestOnset);
        const lastFrame = this.next === 0 ? null : this.placeOf(this.next - 1).beatFrame;
        gap = { lastFrame, nextCycle: cycle };
        this.next = cycle * this.cues.length;
      }
    }
    return gap;
  }

  /** Ends with the last beat that is not after a frame, or has begun. Cues of later beats are taken back. */
  endAfter(frame: Frame): Frame | null {
    const begun = this.queued.filter(({ startFrame }) => startFrame < this.safeFrame);
    const until = Math.max(frame, ...begun.map(({ beatFrame }) => beatFrame));
    this.endFrame = Math.min(this.endFrame, this.lastBeatUntil(until));
    for (const { source, beatFrame } of this.queued) if (beatFrame > this.endFrame) takeBack(source);
    this.queued = this.queued.filter(({ beatFrame }) => beatFrame <= this.endFrame);
    return this.endFrame < this.grid.oneFrame ? null : this.endFrame;
  }

  /** The frame of the last beat; without end while none is set. */
  get lastFrame(): Frame {
    return this.endFrame;
  }

  /** Nothing is to come any more. */
  get isOver(): boolean {
    return this.placeOf(this.next).beatFrame > this.endFrame;
  }

  private get safeFrame(): Frame {
    return Math.ceil((this.audio.context.currentTime + SAFE_LEAD_S) * this.grid.sampleRate);
  }

  private get longestOnset(): Frame {
    return Math.max(...this.cues.map(({ sound }) => sound.onsetFrames));
  }

  private placeOf(index: number): { startFrame: Frame; beatFrame: Frame; sound: DecodedSound } {
    const cue = this.cues[index % this.cues.length];
    if (cue === undefined) throw new Error('a count without cues has no next one');
    const beats = Math.floor(index / this.cues.length) * BEAT_KINDS.length;
    return {
      startFrame: frameOfBeat(this.grid, beats + cue.beat) - cue.sound.onsetFrames,
      // An "and" belongs to the beat before it, and ends with it.
      beatFrame: frameOfBeat(this.grid, beats + Math.floor(cue.beat)),
      sound: cue.sound,
    };
  }

  private lastBeatUntil(frame: Frame): Frame {
    let beat = cycleAtOrAfter(this.grid, frame) * BEAT_KINDS.length;
    while (beat >= 0 && frameOfBeat(this.grid, beat) > frame) beat -= 1;
    return frameOfBeat(this.grid, beat);
  }

  private queue(sound: DecodedSound, startFrame: Frame, beatFrame: Frame): void {
    const source = this.audio.context.createBufferSource();
    source.buffer = sound.buffer;
    source.connect(this.audio.output);
    source.start(startFrame / this.grid.sampleRate);
    this.queued.push({ source, startFrame, beatFrame });
  }

  private forgetPlayed(): void {
    const kept = PLAYED_KEPT_S * this.grid.sampleRate;
    this.queued = this.queued.filter(({ startFrame }) => startFrame > this.safeFrame - kept);
  }
}

/** Stopped before it starts, a source never sounds. */
function takeBack(source: AudioBufferSourceNode): void {
  source.stop();
  source.disconnect();
}
