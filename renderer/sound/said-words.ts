import type { Seconds } from '../../machines/count/clock-fit.ts';
import { SAFE_LEAD_S } from './count-run.ts';
import type { Audio, DecodedSound } from './sound-loader.ts';

/** Between two words (our choice). */
const GAP_S: Seconds = 0.06;
/** The count's voice under other words: 12 dB softer, still there to keep to (our choice; nobody has judged it by ear). */
const SOFT = 10 ** (-12 / 20);
/** How fast it gets softer, and loud again: the time constant of the change (our choice). */
const FADE_S: Seconds = 0.03;

/** Says words one after the other from now. Returns until when, and what takes back those that have not begun. */
export function sayWords(
  { context, output }: Audio,
  words: readonly DecodedSound[],
): { untilS: Seconds; takeBack: () => void } {
  let atS: Seconds = context.currentTime + SAFE_LEAD_S;
  const queued = words.map(({ buffer }) => {
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(output);
    source.start(atS);
    const startS = atS;
    atS += buffer.duration + GAP_S;
    return { source, startS };
  });
  return {
    untilS: atS,
    takeBack: () => {
      for (const { source, startS } of queued) if (startS > context.currentTime + SAFE_LEAD_S) source.stop();
    },
  };
}

/**
 * Where a count that is itself spoken is heard through. It goes on, beat by beat, while other words are said; only its
 * level changes. Ticks need none of it: they are short, and softer than any word.
 */
export class VoiceGain {
  readonly output: GainNode;

  constructor({ context, output }: Audio) {
    this.output = context.createGain();
    this.output.connect(output);
  }

  soften(untilS: Seconds): void {
    const { gain, context } = this.output;
    gain.cancelScheduledValues(context.currentTime);
    gain.setTargetAtTime(SOFT, context.currentTime, FADE_S);
    gain.setTargetAtTime(1, untilS, FADE_S);
  }

  /** Loud again before its time. */
  restore(): void {
    const { gain, context } = this.output;
    gain.cancelScheduledValues(context.currentTime);
    gain.setTargetAtTime(1, context.currentTime, FADE_S);
  }
}
