import { SAMPLE_RATE } from './wav.mjs';

/**
 * Ticks, one pitch a station. Neighbours are a fourth apart (our choice: five semitones are told apart at once, and
 * all four stay between 400 Hz and 1.6 kHz, where small loudspeakers play and gloved, busy people still hear well).
 */
export const TICK_HERTZ = [660, 880, 1173, 1564];

/** A soft tick: 2 ms of attack, gone after 70 ms. */
export function tick(hertz) {
  return tone({
    ms: 70,
    attackMs: TICK_ATTACK_MS,
    partials: [partial(hertz, 1, 12), partial(hertz * 2, 0.3, 6)],
  });
}

/** The breath's own tick: a fifth below, with the octave above it, and four times as long. No breath sound. */
export function breathTick(hertz) {
  const low = (hertz * 2) / 3;
  return tone({
    ms: 260,
    attackMs: BREATH_ATTACK_MS,
    partials: [partial(low, 1, 60), partial(low * 2, 0.35, 35)],
  });
}

/** A dull tap for a heart rate, with a knock above it that small loudspeakers can play. */
export function heartTap() {
  return tone({ ms: 150, attackMs: HEART_ATTACK_MS, partials: [partial(140, 1, 30), partial(420, 0.5, 12)] });
}

/** The sample on which a tone falls: the middle of its attack (our choice; under 2 ms from any other). */
export function toneOnset(attackMs) {
  return Math.round((attackMs / 2) * (SAMPLE_RATE / 1000));
}
export const TICK_ATTACK_MS = 2;
export const BREATH_ATTACK_MS = 4;
export const HEART_ATTACK_MS = 3;

function partial(hertz, share, decayMs) {
  return (ms) => share * Math.sin((2 * Math.PI * hertz * ms) / 1000) * Math.exp(-ms / decayMs);
}

function tone({ ms, attackMs, partials }) {
  const length = Math.round((ms * SAMPLE_RATE) / 1000);
  const fadeMs = 10;
  return Float64Array.from({ length }, (_, index) => {
    // From the sample after 0, so that the first sample is not silence.
    const at = ((index + 1) * 1000) / SAMPLE_RATE;
    const rise = Math.sin((Math.PI / 2) * Math.min(1, at / attackMs)) ** 2;
    const fall = Math.min(1, (ms - at) / fadeMs);
    return rise * fall * partials.reduce((sum, wave) => sum + wave(at), 0);
  });
}
