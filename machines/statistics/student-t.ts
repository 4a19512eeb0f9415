/** The t of Student's distribution that 95 % lies within on both sides: see `studentT`. */
export function studentT95(degreesOfFreedom: number): number {
  return studentT(degreesOfFreedom, 0.95);
}

/**
 * The t of Student's distribution that a share `inside` (0 to 1) lies within on both sides: P(|T| < t) = inside, for degrees of
 * freedom of 1 and more, whole or not. With x = √ν tan θ the density becomes cos^(ν−1) θ, so the probability is one integral of it
 * over another (Simpson's rule), found by Newton's method, and needs no table of its own. Six digits from ν = 2 on, four
 * below (held to scipy's values and to the NIST/SEMATECH e-Handbook's table 1.3.6.7.2, for shares from 0.5 to 0.9999). Throws a
 * RangeError under 1 degree of freedom, and on a share outside 0 to 0.99995, which is more than the most comparisons of a drill need.
 */
export function studentT(degreesOfFreedom: number, inside: number): number {
  if (!(degreesOfFreedom >= 1)) throw new RangeError(`${degreesOfFreedom} degrees of freedom`);
  if (!(inside > 0 && inside <= MOST_INSIDE)) throw new RangeError(`a share of ${inside} inside`);
  const key = `${degreesOfFreedom} ${inside}`;
  const t = FOUND.get(key) ?? search(degreesOfFreedom, inside);
  FOUND.set(key, t);
  return t;
}

/** A search takes most of a millisecond, and the bouts of a drill ask for the same few again and again. */
const FOUND = new Map<string, number>();

function search(degreesOfFreedom: number, inside: number): number {
  const power = degreesOfFreedom - 1;
  // Past this angle a distribution of many degrees of freedom has nothing left.
  const end = Math.min(Math.PI / 2, MOST_SDS / Math.sqrt(degreesOfFreedom));
  const wanted = inside * integral(power, end);
  // The integral's slope falls, so that each step falls short of the angle and none passes it; the first, from 0, has slope 1.
  let angle = wanted;
  for (let step = 1; step < NEWTON_STEPS; step += 1)
    angle += (wanted - integral(power, angle)) / Math.cos(angle) ** power;
  return Math.sqrt(degreesOfFreedom) * Math.tan(angle);
}

/** As far as it was checked. */
const MOST_INSIDE = 0.99995;
const MOST_SDS = 12;
const NEWTON_STEPS = 16;
const PANELS = 1000;

/** ∫ cos^power from 0 to `to`. */
function integral(power: number, to: number): number {
  const width = to / PANELS;
  let sum = 0;
  for (let panel = 0; panel <= PANELS; panel += 1) {
    const weight = panel === 0 || panel === PANELS ? 1 : panel % 2 === 1 ? 4 : 2;
    sum += weight * Math.cos(panel * width) ** power;
  }
  return (sum * width) / 3;
}
