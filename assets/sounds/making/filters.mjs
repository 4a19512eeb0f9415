import { SAMPLE_RATE } from './wav.mjs';

/** A second-order section over samples; `b` and `a` as usual, a[0] = 1. */
export function biquad(samples, { b, a }) {
  const out = new Float64Array(samples.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (const [index, x] of samples.entries()) {
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[1] * y1 - a[2] * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    out[index] = y;
  }
  return out;
}

/** Second-order Butterworth, by the bilinear transform. */
export function lowPass(hertz) {
  const k = Math.tan((Math.PI * hertz) / SAMPLE_RATE);
  const norm = 1 / (1 + Math.SQRT2 * k + k * k);
  return {
    b: [k * k * norm, 2 * k * k * norm, k * k * norm],
    a: [1, 2 * (k * k - 1) * norm, (1 - Math.SQRT2 * k + k * k) * norm],
  };
}

export function highPass(hertz) {
  const { a } = lowPass(hertz);
  const k = Math.tan((Math.PI * hertz) / SAMPLE_RATE);
  const norm = 1 / (1 + Math.SQRT2 * k + k * k);
  return { b: [norm, -2 * norm, norm], a };
}

/** Filtered forwards and backwards: nothing moves in time. */
export function filterInPlace(samples, section) {
  return biquad(biquad(samples, section).reverse(), section).reverse();
}
