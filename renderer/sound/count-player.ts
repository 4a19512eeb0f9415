import { BEAT_KINDS } from '../../machines/count/beats.ts';
import type { Seconds } from '../../machines/count/clock-fit.ts';
import { type Frame, frameOfBeat } from '../../machines/count/sample-grid.ts';
import type { Ms } from '../../machines/units.ts';
import { type AnchorAudio, CountAnchorKeeper } from './count-anchor.ts';
import type { CountSound } from './count-news.ts';
import { CountRun, type Cue, type Gap, SAFE_LEAD_S } from './count-run.ts';
import { playTaps } from './heart-taps.ts';
import { sayWords } from './said-words.ts';
import { type DeskAudio, SoundDesk, type SoundDeskParts } from './sound-desk.ts';
import type { Words } from './sound-shelf.ts';

export type CountPlayerParts = SoundDeskParts & {
  /** Page time at which the drill opened: drill ms are page ms less this. 0 while no drill is open. */
  openedMs: () => Ms;
  /** Wakes the player, and returns what ends that. A late wake moves nothing: what is due is read from the clocks. */
  wakeEvery: (ms: Ms, wake: () => void) => () => void;
};
export type StartOrder = {
  /** A "one" of the count in drill ms. Too near or past, the count joins that beat at its next "one". */
  fromMs: Ms;
  cycleMs: Ms;
  sound: CountSound;
};
export type CountPlayer = {
  /** Loads every sound and begins to measure the clocks, once. Resolves when all are loaded or known not to be there. */
  load: () => Promise<void>;
  /** Starts a count in place of the one that is heard, which ends half a beat before it. Waits where sound is in trouble. */
  start: (order: StartOrder) => void;
  /**
   * The last beat is the one at `afterMs` (drill ms, to within 5 ms) or the one before it, or the one that has begun:
   * none is cut. A time between two beats leaves no doubt.
   */
  stop: (order: { afterMs: Ms }) => void;
  /** 0 to 1. */
  setVolume: (volume: number) => void;
  /** A heart rate to the ear, from now. Returns what takes the rest of the taps back. */
  tapHeart: (order: { bpm: number; taps: number }) => () => void;
  /**
   * Words to the ear, from now; nothing where one of them could not be loaded. A count goes on as it is, one that is
   * spoken itself softer meanwhile. Returns what takes back the words that have not begun.
   */
  speak: (words: Words) => () => void;
  close: () => void;
};

/** Cues are queued so far ahead: a hidden page is woken once a second, and a busy one later still. */
const HORIZON_S: Seconds = 1.6;
const WAKE_EVERY_MS: Ms = 200;
/** A beat so little after the time of a stop is the beat that was meant: the clocks' drift is in between. */
const STOP_SLACK_MS: Ms = 5;
/** Clocks that jumped by more than this are heard as another rhythm: the count begins again at a "one" (our choice). */
const JUMP_HEARD_MS: Ms = 50;

/** Beats that were left out are spoken of for so long (our choice). */
const LATE_SAID_MS: Ms = 10_000;

type Wanted = { fromPageMs: Ms; cycleMs: Ms; sound: CountSound };
type Running = { run: CountRun; keeper: CountAnchorKeeper; order: Wanted };

/** Plays the count on Howler's context, at exact samples, and says where it stands on the drill's clock. */
export function makeCountPlayer(parts: CountPlayerParts): CountPlayer {
  return new Player(parts);
}

class Player implements CountPlayer {
  private readonly parts: CountPlayerParts;
  private readonly desk: SoundDesk;
  private wanted: Wanted | null = null;
  private running: Running | null = null;
  /** Counts that are told to end and still have beats to give. */
  private ending: Running[] = [];
  private loading: Promise<void> | null = null;
  private stopWaking = (): void => undefined;
  /** When beats were last left out, page ms. */
  private lateMs: Ms = Number.NEGATIVE_INFINITY;

  constructor(parts: CountPlayerParts) {
    this.parts = parts;
    this.desk = new SoundDesk(parts);
  }

  load(): Promise<void> {
    this.loading ??= this.loadOnce();
    return this.loading;
  }

  start({ fromMs, cycleMs, sound }: StartOrder): void {
    if (!(cycleMs > 0) || !Number.isFinite(fromMs))
      throw new RangeError(`No count: ${fromMs}, ${cycleMs} ms`);
    this.wanted = { fromPageMs: fromMs + this.parts.openedMs(), cycleMs, sound };
    this.wake();
  }

  stop({ afterMs }: { afterMs: Ms }): void {
    this.wanted = null;
    const frame = this.desk.audio?.clock.frameAt(afterMs + STOP_SLACK_MS + this.parts.openedMs()) ?? 0;
    for (const old of this.ending) if (old.run.lastFrame > frame) this.end(old, frame);
    if (this.running !== null) this.end(this.running, frame);
  }

  setVolume(volume: number): void {
    this.parts.howler.Howler.volume(Math.min(1, Math.max(0, volume)));
  }

  tapHeart({ bpm, taps }: { bpm: number; taps: number }): () => void {
    const { audio, shelf } = this.desk;
    const sound = shelf.heartTap();
    if (audio === null || sound === null || !(bpm > 0)) return () => undefined;
    return playTaps(audio, sound, bpm, taps);
  }

  speak(words: Words): () => void {
    const { audio, shelf } = this.desk;
    const sounds = shelf.wordsOf(words);
    if (audio === null || sounds === null || sounds.length === 0) return () => undefined;
    const { untilS, takeBack } = sayWords(audio, sounds);
    audio.voice.soften(untilS);
    return () => {
      takeBack();
      audio.voice.restore();
    };
  }

  close(): void {
    this.stopWaking();
    this.wanted = null;
    if (this.running !== null) this.end(this.running, 0);
    for (const { run } of this.ending.splice(0)) run.endAfter(0);
    this.desk.close();
  }

  private async loadOnce(): Promise<void> {
    this.stopWaking = this.parts.wakeEvery(WAKE_EVERY_MS, () => this.wake());
    await this.desk.open();
    this.wake();
  }

  private wake(): void {
    const state = this.desk.look();
    const { audio } = this.desk;
    if (state === 'silent') this.interrupt();
    if (state === 'silent' || audio === null) return;
    if (state === 'jumped') this.followJump(audio);
    if (this.wanted !== null && this.running?.order !== this.wanted) this.begin(audio, this.wanted);
    this.queueAhead(audio);
    if (this.running === null) return;
    const standing = this.running.keeper.sayAnew(audio, this.parts.pageNow());
    if (standing !== null) this.parts.onNews({ type: 're-anchored', ...standing });
  }

  private begin(audio: DeskAudio, order: Wanted): void {
    const cues = this.desk.shelf.cuesOf(order.sound);
    if (cues === null) this.endBefore(audio, order);
    const oneFrame = cues && firstOne(audio, order, cues);
    if (cues === null || oneFrame === null) return;
    const grid = { oneFrame, cycleMs: order.cycleMs, sampleRate: audio.context.sampleRate };
    const keeper = new CountAnchorKeeper(grid, this.parts.openedMs());
    const standing = keeper.start(audio, this.parts.pageNow());
    if (standing === null) return;
    // A beat of the old count in the half beat before the new "one" would be heard as part of it.
    const lastOld = oneFrame - frameOfBeat({ ...grid, oneFrame: 0 }, 0.5);
    for (const old of this.ending) if (old.run.lastFrame > lastOld) this.end(old, lastOld);
    if (this.running !== null) this.end(this.running, lastOld);
    const through = order.sound.kind === 'voice' ? { ...audio, output: audio.voice.output } : audio;
    this.running = { run: new CountRun(through, grid, cues), keeper, order };
    this.parts.onNews({ type: 'started', ...standing });
  }

  /** What is wanted cannot be played: the count before it ends all the same, where the new one was to begin. */
  private endBefore(audio: AnchorAudio, { fromPageMs, cycleMs }: Wanted): void {
    const frame = audio.clock.frameAt(fromPageMs - cycleMs / BEAT_KINDS.length / 2);
    if (this.running !== null) this.end(this.running, frame ?? 0);
  }

  private queueAhead(audio: AnchorAudio): void {
    const { context } = audio;
    const until = Math.floor((context.currentTime + HORIZON_S) * context.sampleRate);
    const all = this.running === null ? this.ending : [...this.ending, this.running];
    for (const one of all) {
      const gap = one.run.queueUntil(until);
      if (gap !== null) this.sayGap(audio, one, gap);
    }
    this.ending = this.ending.filter(({ run }) => !run.isOver);
    this.desk.setTrouble('page-late', this.parts.pageNow() - this.lateMs < LATE_SAID_MS);
  }

  /** Beats were left out: the count stopped before them, and goes on after them. */
  private sayGap(audio: AnchorAudio, { run, keeper }: Running, { lastFrame, nextCycle }: Gap): void {
    const nowMs = this.parts.pageNow();
    this.lateMs = nowMs;
    const lastBeatMs = lastFrame === null ? null : keeper.saidMsAt(lastFrame);
    this.parts.onNews({ type: 'stopped', lastBeatMs });
    const standing = run === this.running?.run ? keeper.sayFrom(audio, nextCycle, nowMs) : null;
    if (standing !== null) this.parts.onNews({ type: 'started', ...standing });
  }

  private end(running: Running, frame: Frame): void {
    const last = running.run.endAfter(frame);
    if (running === this.running) {
      this.running = null;
      this.ending.push(running);
    }
    this.parts.onNews({ type: 'stopped', lastBeatMs: last === null ? null : running.keeper.saidMsAt(last) });
  }

  /** Beats are heard at other drill times than before: said anew if by little, else begun again in the old rhythm. */
  private followJump(audio: AnchorAudio): void {
    const offMs = this.running?.keeper.offNowMs(audio, this.parts.pageNow()) ?? 0;
    if (Math.abs(offMs) > JUMP_HEARD_MS) this.interrupt();
  }

  /** Takes back what is queued. The count is still wanted, and goes on at a "one" of the rhythm it had. */
  private interrupt(): void {
    for (const { run } of this.ending.splice(0)) run.endAfter(0);
    const { running } = this;
    if (running === null) return;
    if (this.wanted === running.order) {
      this.wanted = { ...running.order, fromPageMs: running.keeper.onePageMs ?? running.order.fromPageMs };
    }
    this.end(running, 0);
    this.ending = [];
  }
}

/** The frame of the first "one" of what is wanted that can still be queued whole; null while the clocks are unknown. */
function firstOne({ context, clock }: AnchorAudio, order: Wanted, cues: readonly Cue[]): Frame | null {
  const leadFrames = Math.max(...cues.map(({ sound }) => sound.onsetFrames));
  const earliest = Math.ceil((context.currentTime + 2 * SAFE_LEAD_S) * context.sampleRate) + leadFrames;
  const earliestMs = clock.pageMsAt(earliest);
  if (earliestMs === null) return null;
  const cycle = Math.max(0, Math.ceil((earliestMs - order.fromPageMs) / order.cycleMs));
  const frame = clock.frameAt(order.fromPageMs + cycle * order.cycleMs);
  return frame === null ? null : Math.max(frame, earliest);
}
