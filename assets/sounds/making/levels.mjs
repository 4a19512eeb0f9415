import { biquad } from './filters.mjs';
import { SAMPLE_RATE } from './wav.mjs';

/** The two sections of K weighting at 48 kHz, from ITU-R BS.1770, tables 1 and 2. */
const SHELF = {
  b: [1.53512485958697, -2.69169618940638, 1.19839281085285],
  a: [1, -1.69065929318241, 0.73248077421585],
};
const ROLL_OFF = { b: [1, -2, 1], a: [1, -1.99004745483398, 0.99007225036621] };
/** The loudest tenth of a second counts: our choice, since these sounds are shorter than the standard's 400 ms. */
const WINDOW = SAMPLE_RATE / 10;

/** Level in dB of the loudest 100 ms after K weighting, with BS.1770's constant; sounds are padded with silence. */
export function loudness(samples) {
  const padded = new Float64Array(samples.length + 2 * WINDOW);
  padded.set(samples, WINDOW);
  const weighted = biquad(biquad(padded, SHELF), ROLL_OFF);
  let [sum, loudest] = [0, 0];
  for (const [index, sample] of weighted.entries()) {
    sum += sample * sample;
    if (index >= WINDOW) sum -= weighted[index - WINDOW] ** 2;
    loudest = Math.max(loudest, sum);
  }
  return -0.691 + 10 * Math.log10(loudest / WINDOW);
}

/** The same sound at a level; throws where its peak would pass `peakDb`. */
export function levelled(samples, levelDb, peakDb) {
  const gain = 10 ** ((levelDb - loudness(samples)) / 20);
  const out = samples.map((sample) => sample * gain);
  if (peak(out) > peakDb) throw new Error(`peak ${peak(out).toFixed(1)} dB is over ${peakDb} dB`);
  return out;
}

/** Peak in dB of full scale. */
export function peak(samples) {
  return 20 * Math.log10(samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0));
}
