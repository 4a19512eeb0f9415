import type { Seconds } from '../../machines/count/clock-fit.ts';
import type { Ms } from '../../machines/units.ts';

/**
 * starting: nothing is known yet of a new context. blocked: none has run yet, the browser waits for a gesture.
 * lost: one ran, and stands still.
 */
export type AudioState = 'starting' | 'running' | 'blocked' | 'lost';

/** The audio clock may stand so long before the device counts as lost: twenty output buffers, our choice. */
const STILL_MS: Ms = 800;
/** A context that stands is asked to go on so often. */
const RESUME_EVERY_MS: Ms = 1000;
const GESTURES = ['pointerdown', 'keydown', 'touchend'] as const;

/** Is the audio clock going? Looked at at every wake; the clock goes on while the page is busy. */
export class AudioWatch {
  private context: AudioContext | null = null;
  private hasRun = false;
  /** The clock of this context has been seen to go. */
  private hasMoved = false;
  private lastTimeS: Seconds = 0;
  private movedMs: Ms = 0;
  private resumedMs: Ms = 0;

  watch(context: AudioContext, nowMs: Ms): void {
    this.context = context;
    this.hasMoved = false;
    this.lastTimeS = context.currentTime;
    this.movedMs = nowMs;
  }

  look(nowMs: Ms): AudioState {
    const { context } = this;
    if (context === null) return 'starting';
    if (context.currentTime !== this.lastTimeS) {
      this.hasMoved = true;
      this.lastTimeS = context.currentTime;
      this.movedMs = nowMs;
    }
    const isGoing = context.state === 'running' && nowMs - this.movedMs < STILL_MS;
    if (isGoing && !this.hasMoved) return 'starting';
    this.hasRun ||= isGoing;
    if (isGoing) return 'running';
    if (!this.hasRun) return 'blocked';
    this.resumeNowAndThen(nowMs);
    return 'lost';
  }

  /** How long the clock has stood, ms. */
  stillMs(nowMs: Ms): Ms {
    return nowMs - this.movedMs;
  }

  /** A blocked context may go on after a gesture; returns what stops the listening. */
  resumeOnGesture(target: Pick<EventTarget, 'addEventListener' | 'removeEventListener'>): () => void {
    const resume = () => {
      if (this.context !== null && this.context.state !== 'running') askToResume(this.context);
    };
    for (const gesture of GESTURES) target.addEventListener(gesture, resume, { capture: true });
    return () => {
      for (const gesture of GESTURES) target.removeEventListener(gesture, resume, { capture: true });
    };
  }

  private resumeNowAndThen(nowMs: Ms): void {
    const { context } = this;
    if (context === null || nowMs - this.resumedMs < RESUME_EVERY_MS) return;
    this.resumedMs = nowMs;
    askToResume(context);
  }
}

/** The state is watched, so a refusal needs no answer of its own. */
function askToResume(context: AudioContext): void {
  if (context.state === 'closed') return;
  context.resume().catch(() => undefined);
}
