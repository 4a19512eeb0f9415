import type { Share } from '../units.ts';

/**
 * The exact 95 % interval of a share of which `count` of `of` were seen (Clopper and Pearson, Biometrika 1934;26:404-413, from
 * memory): the lower limit is the share with which so many or more come in 2.5 % of cases, the upper the one with which so many
 * or fewer do. It never holds the truth less often than it says, if the cases are independent; where they come in clusters
 * it is too narrow. 0 and 1 at the ends; null of none. Throws a RangeError on a count that cannot be.
 */
export function exactShareInterval(count: number, of: number): { low: Share; high: Share } | null {
  if (!(Number.isInteger(count) && Number.isInteger(of) && count >= 0 && count <= of))
    throw new RangeError(`${count} of ${of}`);
  if (of === 0) return null;
  return { low: lowerLimit(count, of), high: 1 - lowerLimit(of - count, of) };
}

const TAIL = 0.025;
/** Halves of 1 until two neighbours differ by less than 10⁻¹². */
const HALVINGS = 40;

function lowerLimit(count: number, of: number): Share {
  if (count === 0) return 0;
  let low = 0;
  let high = 1;
  for (let step = 0; step < HALVINGS; step += 1) {
    const middle = (low + high) / 2;
    if (atLeast(count, of, middle) < TAIL) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The probability of so many or more of `of`, each with probability `share`, strictly between 0 and 1. */
function atLeast(count: number, of: number, share: number): number {
  let log = count * Math.log(share) + (of - count) * Math.log1p(-share);
  for (let k = 1; k <= count; k += 1) log += Math.log((of - count + k) / k);
  let total = 0;
  for (let k = count; k <= of; k += 1) {
    const term = Math.exp(log);
    total += term;
    // Past the likeliest number the terms only fall.
    if (k > of * share && term < total * 1e-15) break;
    log += Math.log(((of - k) / (k + 1)) * (share / (1 - share)));
  }
  return total;
}
