import { filterInPlace, highPass, lowPass } from './filters.mjs';
import { SAMPLE_RATE } from './wav.mjs';

/**
 * Where a word is heard to fall: its P-centre (Morton, Marcus and Frankish 1976, Psychological Review 83, 405-408),
 * estimated by the steps that Cummins (1998) took from Scott (1993): keep the band of the vowel's formants, rectify,
 * smooth to a "beat wave", and take the point midway between 10 % and 90 % of its largest rise. Vowel onset is the
 * strongest single determinant (Harsin 1993, meeting of the Acoustical Society of America). The band and the
 * smoothing are our choice: wide enough for "three" and "breathe", whose vowel has nothing near 1 kHz.
 * An estimate: published models leave some 10 ms of scatter between words, and nobody has listened to these.
 */
const BAND_HERTZ = [300, 3000];
const SMOOTH_HERTZ = 12;

/** Index of the sample on which the word falls. */
export function perceptualOnset(samples) {
  const pad = SAMPLE_RATE / 4;
  const padded = new Float64Array(samples.length + 2 * pad);
  padded.set(samples, pad);
  const band = filterInPlace(filterInPlace(padded, highPass(BAND_HERTZ[0])), lowPass(BAND_HERTZ[1]));
  const wave = filterInPlace(band.map(Math.abs), lowPass(SMOOTH_HERTZ));
  const { trough, crest } = largestRise(wave);
  const rise = wave[crest] - wave[trough];
  const low = firstAbove(wave, trough, wave[trough] + rise * 0.1);
  const high = firstAbove(wave, low, wave[trough] + rise * 0.9);
  return Math.max(0, Math.round((low + high) / 2) - pad);
}

function largestRise(wave) {
  let best = { trough: 0, crest: 0 };
  let trough = 0;
  for (const index of wave.keys()) {
    if (wave[index] < wave[trough]) trough = index;
    if (wave[index] - wave[trough] > wave[best.crest] - wave[best.trough]) best = { trough, crest: index };
  }
  return best;
}

function firstAbove(wave, from, level) {
  let index = from;
  while (wave[index] < level) index += 1;
  return index;
}
