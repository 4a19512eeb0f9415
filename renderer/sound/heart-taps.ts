import type { Seconds } from '../../machines/count/clock-fit.ts';
import { SAFE_LEAD_S } from './count-run.ts';
import type { Audio, DecodedSound } from './sound-loader.ts';

/** A heart rate for a minute's listening at the most. */
const MAX_TAPS = 300;

/** So many taps a minute from now, at exact times; returns what takes back those that have not begun. */
export function playTaps(
  { context, output }: Audio,
  sound: DecodedSound,
  bpm: number,
  taps: number,
): () => void {
  const fromS: Seconds = context.currentTime + SAFE_LEAD_S;
  const queued = Array.from({ length: Math.min(taps, MAX_TAPS) }, (_, index) => {
    const source = context.createBufferSource();
    source.buffer = sound.buffer;
    source.connect(output);
    const atS = fromS + (index * 60) / bpm;
    source.start(atS);
    return { source, atS };
  });
  return () => {
    for (const { source, atS } of queued) if (atS > context.currentTime + SAFE_LEAD_S) source.stop();
  };
}
