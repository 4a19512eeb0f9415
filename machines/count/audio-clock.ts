import type { Ms } from '../units.ts';
import { type ClockFit, type ClockPair, fitClocks, type Seconds } from './clock-fit.ts';

export type AudioClockSettings = {
  /**
   * The step in which the audio time of a pair moves, in seconds: a pair's audio time is rounded down to it, so the
   * line is moved by half of it. 0 (the default): pairs are exact, or wrong to both sides alike.
   */
  stepS?: Seconds;
};
/** kept: the pair is in the line. aside: too far off to be believed alone. anew: the clocks have jumped. */
export type PairOutcome = 'kept' | 'aside' | 'anew';

/** The window of the line: long enough to know the drift, short enough to follow it (our choice). */
const WINDOW_S: Seconds = 120;
/** Pairs kept: two a second over the whole window; a fit of so many costs a tenth of a millisecond. */
const MAX_PAIRS = 240;
/** A pair this far from the line is not believed alone: six spreads of the line, and no less than this. */
const ASIDE_MS: Ms = 2;
const ASIDE_SPREADS = 6;
/** So many pairs set aside one after another that agree among themselves are a jump, not an accident. */
const AGREEING_PAIRS = 4;

/**
 * Converts between the audio clock and the drill's clock, from pairs of readings taken now and then. The line moves
 * with the drift of the two clocks; a jump (another sound device, a context that slept) starts it anew, and everything
 * before the jump is forgotten. Says how far off it may be; an error that all pairs share it cannot see.
 */
export class AudioClock {
  private readonly stepS: Seconds;
  private pairs: ClockPair[] = [];
  private aside: ClockPair[] = [];
  private fitted: ClockFit | null = null;

  constructor(settings: AudioClockSettings = {}) {
    this.stepS = settings.stepS ?? 0;
  }

  /** Takes a pair of readings, later than those before it. */
  take(pair: ClockPair): PairOutcome {
    const last = this.pairs.at(-1);
    const fit = this.fit;
    if (last === undefined || fit === null) return this.keep(pair);
    // A new context starts at 0 again: its times mean nothing on the old line.
    if (pair.audioS < last.audioS) return this.startAnew([pair]);
    const limitMs = Math.max(ASIDE_MS, ASIDE_SPREADS * fit.spreadMs);
    if (Math.abs(pair.drillMs - fit.drillMsAt(this.centred(pair.audioS))) <= limitMs) return this.keep(pair);
    this.aside = [...this.aside, pair].slice(-AGREEING_PAIRS);
    const agree = this.aside.length === AGREEING_PAIRS && doAgree(this.aside, limitMs);
    return agree ? this.startAnew(this.aside) : 'aside';
  }

  /** Drill ms of an audio time; null before the first pair. */
  toDrillMs(audioS: Seconds): Ms | null {
    return this.fit?.drillMsAt(audioS) ?? null;
  }

  /** Audio time of drill ms; null before the first pair. */
  toAudioS(drillMs: Ms): Seconds | null {
    return this.fit?.audioSAt(drillMs) ?? null;
  }

  /** Drill ms that pass in one audio second; null before the first pair. 1000.2 is a drift of 200 ppm. */
  get msPerAudioSecond(): Ms | null {
    return this.fit?.msPerSecond ?? null;
  }

  /** Half the width of the 95 % interval of a conversion at an audio time, in ms; null before the first pair. */
  errorMsAt(audioS: Seconds): Ms | null {
    return this.fit?.errorMsAt(audioS) ?? null;
  }

  /** Pairs in the line since the start or the last jump. */
  get size(): number {
    return this.pairs.length;
  }

  forget(): void {
    this.startAnew([]);
  }

  /** Fitted when asked, once a pair. */
  private get fit(): ClockFit | null {
    this.fitted ??= fitClocks(this.pairs.map((pair) => ({ ...pair, audioS: this.centred(pair.audioS) })));
    return this.fitted;
  }

  private keep(pair: ClockPair): PairOutcome {
    this.aside = [];
    this.pairs.push(pair);
    while (this.pairs.length > MAX_PAIRS || this.isOld(pair)) this.pairs.shift();
    this.fitted = null;
    return 'kept';
  }

  private isOld(latest: ClockPair): boolean {
    const first = this.pairs[0];
    return first !== undefined && latest.audioS - first.audioS > WINDOW_S;
  }

  private startAnew(pairs: readonly ClockPair[]): PairOutcome {
    this.pairs = [...pairs];
    this.aside = [];
    this.fitted = null;
    return 'anew';
  }

  private centred(audioS: Seconds): Seconds {
    return audioS + this.stepS / 2;
  }
}

/** Do pairs lie on one line at the usual speed? A clock that stands still does not agree with itself. */
function doAgree(pairs: readonly ClockPair[], limitMs: Ms): boolean {
  const offsets = pairs.map(({ audioS, drillMs }) => drillMs - audioS * 1000);
  return Math.max(...offsets) - Math.min(...offsets) <= limitMs;
}
