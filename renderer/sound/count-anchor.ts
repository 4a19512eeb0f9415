import { BEAT_KINDS } from '../../machines/count/beats.ts';
import {
  cycleAtOrAfter,
  type Frame,
  frameOfBeat,
  type SampleGrid,
} from '../../machines/count/sample-grid.ts';
import type { Ms } from '../../machines/units.ts';
import type { CountStanding } from './count-news.ts';
import type { HeardClock } from './heard-clock.ts';
import type { Audio } from './sound-loader.ts';

/** The anchor is said anew when a beat is so far from where it was said, but not too often, and now and then anyway. */
const OFF_MS: Ms = 0.3;
const AT_MOST_EVERY_MS: Ms = 2000;
const AT_LEAST_EVERY_MS: Ms = 30_000;

/** What was said of a count: page ms at which a "one" of it, by its cycle, is heard. */
type Said = { cycle: number; pageMs: Ms; cycleMs: Ms; saidAtMs: Ms };
export type AnchorAudio = Audio & { clock: HeardClock };

/** Where a count stands on the drill's clock, and when that has to be said anew. */
export class CountAnchorKeeper {
  private readonly grid: SampleGrid;
  private readonly openedMs: Ms;
  private said: Said | null = null;

  /** `openedMs` is the page time of the drill's 0. */
  constructor(grid: SampleGrid, openedMs: Ms) {
    this.grid = grid;
    this.openedMs = openedMs;
  }

  /** The count's first "one"; null while the clocks are not known. */
  start(audio: AnchorAudio, nowMs: Ms): CountStanding | null {
    return this.say(audio, 0, nowMs);
  }

  /** The next "one" to be heard, if what was said does not tell it closely any more; else null. */
  sayAnew(audio: AnchorAudio, nowMs: Ms): CountStanding | null {
    const { said } = this;
    const heardNow = audio.clock.frameAt(nowMs);
    if (said === null || heardNow === null || nowMs - said.saidAtMs < AT_MOST_EVERY_MS) return null;
    const cycle = cycleAtOrAfter(this.grid, heardNow + 1);
    const isClose = Math.abs(this.offMs(audio.clock, cycle)) <= OFF_MS;
    return isClose && nowMs - said.saidAtMs < AT_LEAST_EVERY_MS ? null : this.say(audio, cycle, nowMs);
  }

  /** The count goes on with the "one" of a cycle. */
  sayFrom(audio: AnchorAudio, cycle: number, nowMs: Ms): CountStanding | null {
    return this.say(audio, cycle, nowMs);
  }

  /** How far the next beats are from where they were said to be, ms; after a jump of the clocks. */
  offNowMs(audio: AnchorAudio, nowMs: Ms): Ms {
    const heardNow = audio.clock.frameAt(nowMs);
    return heardNow === null ? 0 : this.offMs(audio.clock, cycleAtOrAfter(this.grid, heardNow));
  }

  /** Page ms of a "one" of the count as it was last said: where it goes on after it was interrupted. */
  get onePageMs(): Ms | null {
    return this.said?.pageMs ?? null;
  }

  /** Drill ms at which a frame of the count is heard, by what was said last; null before anything was. */
  saidMsAt(frame: Frame): Ms | null {
    if (this.said === null) return null;
    const { cycle, pageMs, cycleMs } = this.said;
    const cycles = ((frame - this.oneFrame(cycle)) * 1000) / this.grid.sampleRate / this.grid.cycleMs;
    return pageMs + cycles * cycleMs - this.openedMs;
  }

  private offMs(clock: HeardClock, cycle: number): Ms {
    const pageMs = clock.pageMsAt(this.oneFrame(cycle));
    if (this.said === null || pageMs === null) return 0;
    return pageMs - (this.said.pageMs + (cycle - this.said.cycle) * this.said.cycleMs);
  }

  private say({ clock, context }: AnchorAudio, cycle: number, nowMs: Ms): CountStanding | null {
    const pageMs = clock.pageMsAt(this.oneFrame(cycle));
    const { msPerAudioSecond } = clock;
    if (pageMs === null || msPerAudioSecond === null) return null;
    const cycleMs = (this.grid.cycleMs / 1000) * msPerAudioSecond;
    this.said = { cycle, pageMs, cycleMs, saidAtMs: nowMs };
    return {
      anchor: { atMs: pageMs - this.openedMs, beat: 'one', cycleMs },
      outputLatencyMs: latencyMs(context.outputLatency),
      baseLatencyMs: latencyMs(context.baseLatency),
      errorMs: clock.errorMsAt(this.oneFrame(cycle)) ?? 0,
    };
  }

  private oneFrame(cycle: number): Frame {
    return frameOfBeat(this.grid, cycle * BEAT_KINDS.length);
  }
}

function latencyMs(seconds: number | undefined): Ms | null {
  return seconds !== undefined && Number.isFinite(seconds) ? seconds * 1000 : null;
}
