import type { StationSettings } from '../../electron/contract.ts';
import type { CountOrder } from '../../machines/count/count-order.ts';
import { tapsFor } from '../../machines/heart-rate.ts';
import { CYCLE_MS } from '../../machines/pattern.ts';
import type { PlanCall } from '../../machines/plans/plan-calls.ts';
import type { Ms } from '../../machines/units.ts';
import { type Language, LEARNERS_WORDS } from '../../machines/words/languages.ts';
import { soonSpoken } from '../../machines/words/plan-words.ts';
import type { DrillClock } from '../adapters/drill-clock.ts';
import type { CountNews, CountSound, SoundTrouble } from '../sound/count-news.ts';
import type { CountPlayer } from '../sound/count-player.ts';
import { CountKeeper, type CountKeeperParts } from './count-keeper.ts';

export type SoundSettings = StationSettings['sound'];
/** once: hear the count said. spoken: the voice says it, then the tick goes on while the pair says it, without hands. */
export type Exercise = 'once' | 'spoken';
export type SoundStatus = {
  isLoaded: boolean;
  troubles: readonly SoundTrouble[];
  /** What is being heard, or seen, on Set-up, in page ms; null while nothing is. */
  exercise: { kind: Exercise; order: CountOrder } | null;
};
/** Where a drill's count is written down. */
export type CountJournal = Pick<CountKeeperParts, 'write' | 'note'>;
type StationSoundParts = {
  makePlayer: (hooks: { openedMs: () => Ms; onNews: (news: CountNews) => void }) => CountPlayer;
  pageNow: () => Ms;
};

/** The voice says so many cycles; then so many are the pair's own (tool defaults). */
const VOICE_CYCLES = 2;
const OWN_CYCLES = 8;
/** An exercise begins so long after it was asked for (tool default). */
const EXERCISE_LEAD_MS: Ms = 1500;
/** A spoken lead-in begins so long after both were held (tool default). */
const LEAD_IN_WAIT_MS: Ms = 300;

/** The station's sound: one player for the window's life, what is wrong with it, and the exercises of Set-up. */
export class StationSound {
  readonly player: CountPlayer;
  status: SoundStatus = { isLoaded: false, troubles: [], exercise: null };
  version = 0;
  private readonly parts: StationSoundParts;
  private readonly listeners = new Set<() => void>();
  private clock: DrillClock | null = null;
  private keeper: CountKeeper | null = null;
  private language: Language = 'english';
  /** The drill on the Floor is to be heard. */
  isWanted = false;
  private next: ((fromMs: Ms) => void) | null = null;
  private takeBackTaps: (() => void) | null = null;
  private takeBackWords: (() => void) | null = null;

  constructor(parts: StationSoundParts) {
    this.parts = parts;
    this.player = parts.makePlayer({ openedMs: () => this.openedMs, onNews: (news) => this.hear(news) });
  }

  async load(): Promise<void> {
    await this.player.load();
    this.change({ isLoaded: true });
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** From now on times are the drill's. Returns who has its count played and written down. */
  beginDrill(
    clock: DrillClock,
    settings: SoundSettings,
    into: CountJournal,
    language: Language = 'english',
  ): CountKeeper {
    this.endExercise();
    this.language = language;
    this.clock = clock;
    this.player.setVolume(settings.volume);
    this.isWanted = settings.isOn && settings.volume > 0;
    this.keeper = new CountKeeper({
      player: this.isWanted ? this.player : null,
      soundAt: (cycleMs) => this.soundAt(cycleMs, settings),
      ...into,
      now: clock.now,
    });
    return this.keeper;
  }

  /** A heart rate to the ear, for as many taps; another takes its place. */
  tapHeart(bpm: number): void {
    this.stopTaps();
    if (this.isWanted) this.takeBackTaps = this.player.tapHeart({ bpm, taps: tapsFor(bpm) });
  }

  /** Nothing is tapped while the pair compresses. */
  stopTaps(): void {
    this.takeBackTaps?.();
    this.takeBackTaps = null;
  }

  /** Says what is about to be called; with nothing to say, takes back what is not yet said. */
  warn(soon: readonly PlanCall[]): void {
    this.takeBackWords?.();
    const words = LEARNERS_WORDS[this.language];
    const texts = this.isWanted ? soonSpoken(soon, words) : [];
    this.takeBackWords = texts.length === 0 ? null : this.player.speak({ language: words.code, texts });
  }

  endDrill(): void {
    this.stopTaps();
    this.warn([]);
    this.keeper?.follow(null);
    this.keeper = null;
    this.isWanted = false;
    this.clock = null;
  }

  /** The count at a tempo, before any drill; another of the same ends it. */
  exercise(kind: Exercise, cycleMs: Ms, settings: SoundSettings, language: Language = 'english'): void {
    const isSame = this.status.exercise?.kind === kind;
    this.endExercise();
    if (isSame || this.keeper !== null) return;
    this.language = language;
    const cycles = kind === 'once' ? VOICE_CYCLES : VOICE_CYCLES + OWN_CYCLES;
    this.showExercise(kind, this.parts.pageNow() + EXERCISE_LEAD_MS, cycleMs, cycles);
    if (!settings.isOn) return;
    this.player.setVolume(settings.volume);
    // Before the start: the player may answer at once.
    this.next = (fromMs) => this.followVoice(kind, fromMs, cycleMs, settings.pitch);
    this.player.start({
      fromMs: this.parts.pageNow() + EXERCISE_LEAD_MS,
      cycleMs,
      sound: this.voice,
    });
  }

  /** One cycle of the voice, for a pair that begins with no instructor at hand; the drill's own count may follow it. */
  leadIn(cycleMs: Ms): void {
    if (!this.isWanted) return;
    this.next = (fromMs) => this.player.stop({ afterMs: fromMs + cycleMs * (7 / 8) });
    this.player.start({
      fromMs: this.parts.pageNow() - this.openedMs + LEAD_IN_WAIT_MS,
      cycleMs,
      sound: this.voice,
    });
  }

  endExercise(): void {
    if (this.status.exercise === null) return;
    this.next = null;
    this.player.stop({ afterMs: this.parts.pageNow() });
    this.change({ exercise: null });
  }

  /** What is heard at a tempo: the voice is for first contact, else the soft tick, while the compressor counts. */
  soundAt(cycleMs: Ms, { pitch }: SoundSettings): CountSound {
    return cycleMs > CYCLE_MS ? this.voice : { kind: 'tick', pitch };
  }

  private get voice(): CountSound {
    return { kind: 'voice', language: LEARNERS_WORDS[this.language].code };
  }

  /** The voice has begun: what comes after it is ordered now, so that it needs no clock to be on time. */
  private followVoice(kind: Exercise, fromMs: Ms, cycleMs: Ms, pitch: number): void {
    const ownMs = fromMs + VOICE_CYCLES * cycleMs;
    if (kind === 'once') {
      this.showExercise(kind, fromMs, cycleMs, VOICE_CYCLES);
      this.player.stop({ afterMs: ownMs - cycleMs / 8 });
      return;
    }
    const cycles = VOICE_CYCLES + OWN_CYCLES;
    this.showExercise(kind, fromMs, cycleMs, cycles);
    this.next = () => this.player.stop({ afterMs: fromMs + cycles * cycleMs - cycleMs / 8 });
    this.player.start({ fromMs: ownMs, cycleMs, sound: { kind: 'tick', pitch } });
  }

  private get openedMs(): Ms {
    return this.clock?.openedAtPageMs ?? 0;
  }

  private showExercise(kind: Exercise, fromMs: Ms, cycleMs: Ms, cycles: number): void {
    this.change({ exercise: { kind, order: { fromMs, cycleMs, endMs: fromMs + cycles * cycleMs } } });
  }

  private hear(news: CountNews): void {
    if (news.type === 'trouble') this.change({ troubles: [...this.status.troubles, news.code] });
    if (news.type === 'trouble over') {
      this.change({ troubles: this.status.troubles.filter((code) => code !== news.code) });
    }
    this.keeper?.hear(news);
    if (news.type !== 'started') return;
    const { next } = this;
    this.next = null;
    next?.(news.anchor.atMs);
  }

  private change(changes: Partial<SoundStatus>): void {
    this.status = { ...this.status, ...changes };
    this.version += 1;
    for (const listener of this.listeners) listener();
  }
}
