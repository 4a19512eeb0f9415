import { AudioClock, type PairOutcome } from '../../machines/count/audio-clock.ts';
import type { ClockPair, Seconds } from '../../machines/count/clock-fit.ts';
import type { Frame } from '../../machines/count/sample-grid.ts';
import type { Ms } from '../../machines/units.ts';

/** Pairs are read at every wake until there are so many, then so often; a fit costs about a tenth of a ms. */
const FIRST_PAIRS = 15;
const PAIR_EVERY_MS: Ms = 1000;
/** A line through fewer pairs knows no spread. */
const MIN_PAIRS = 3;
/**
 * A context that starts or goes on is not read so long: in Chromium its first readings were 10 ms, one output buffer,
 * from those after 0.3 s. Twice that, our choice.
 */
const SETTLE_MS: Ms = 600;
/** A reading of the output's position this far from now is not believed; our choice. */
const MAX_READING_AGE_MS: Ms = 1000;

/**
 * Page time (`performance.now()`, where event time stamps are too) at which a context's samples are heard. Read from
 * the output's own position, which in Chromium moved by under 0.3 ms from reading to reading where the context's
 * current time moved by 11 ms. Conversions are null until the clocks have been read a few times.
 */
export class HeardClock {
  private readonly context: AudioContext;
  private readonly line = new AudioClock();
  private goingSinceMs: Ms | null = null;
  private readMs = Number.NEGATIVE_INFINITY;
  private lastOutcome: PairOutcome = 'kept';

  constructor(context: AudioContext) {
    this.context = context;
  }

  /** Reads the clocks if it is time to. 'anew' where they have jumped. */
  read(nowMs: Ms): PairOutcome {
    this.goingSinceMs ??= nowMs;
    if (nowMs - this.goingSinceMs < SETTLE_MS) return 'kept';
    const isDue =
      this.line.size < FIRST_PAIRS || this.lastOutcome === 'aside' || nowMs - this.readMs >= PAIR_EVERY_MS;
    const pair = isDue ? readClockPair(this.context, nowMs) : null;
    if (pair === null) return 'kept';
    this.readMs = nowMs;
    this.lastOutcome = this.line.take(pair);
    return this.lastOutcome;
  }

  /** The context stands: what was known of it says nothing of how it will go on. */
  forget(): void {
    this.line.forget();
    this.goingSinceMs = null;
    this.lastOutcome = 'kept';
  }

  frameAt(pageMs: Ms): Frame | null {
    const audioS = this.isKnown ? this.line.toAudioS(pageMs) : null;
    return audioS === null ? null : Math.round(audioS * this.context.sampleRate);
  }

  pageMsAt(frame: Frame): Ms | null {
    return this.isKnown ? this.line.toDrillMs(frame / this.context.sampleRate) : null;
  }

  /** Page ms in one second of the audio clock. */
  get msPerAudioSecond(): Ms | null {
    return this.isKnown ? this.line.msPerAudioSecond : null;
  }

  /** Half the width of the 95 % interval of a conversion, ms. */
  errorMsAt(frame: Frame): Ms | null {
    return this.isKnown ? this.line.errorMsAt(frame / this.context.sampleRate) : null;
  }

  private get isKnown(): boolean {
    return this.line.size >= MIN_PAIRS;
  }
}

/** Null while there is nothing to read. Where the output's position is not told, it is taken from the latencies. */
export function readClockPair(context: AudioContext, nowMs: Ms): ClockPair | null {
  if (context.state !== 'running' || context.currentTime === 0) return null;
  const { contextTime, performanceTime } = context.getOutputTimestamp();
  if (contextTime !== undefined && performanceTime !== undefined && contextTime > 0) {
    const isFresh = Math.abs(nowMs - performanceTime) <= MAX_READING_AGE_MS;
    if (isFresh && contextTime <= context.currentTime)
      return { audioS: contextTime, drillMs: performanceTime };
  }
  const latencyS: Seconds = (context.outputLatency || 0) + (context.baseLatency || 0);
  return { audioS: context.currentTime - latencyS, drillMs: nowMs };
}
