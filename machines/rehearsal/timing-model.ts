import { nextNormal, type RandomState } from '../statistics/random.ts';
import type { Ms } from '../units.ts';

/**
 * How the synthetic pair keeps time: the model behind `rehearse`, in pieces that can be tested alone.
 * Marks: [S] read in the source, [C] computed for the project's check file, [M] from memory, not opened.
 *
 * One person's beat: the two-level model I = C + M′ − M of Wing and Kristofferson (Percept Psychophys 1973;14:5-12 [M]), as restated
 * by Doumas and Wing (J Exp Psychol Hum Percept Perform 2007;33:442-455 [S]): a clock gives ticks whose intervals C are independent,
 * and each movement follows its tick with a delay M of its own. So the variance of an interval is s_C² + 2 s_M², and
 * neighbours correlate by −s_M² / (s_C² + 2 s_M²), which lies between −0.5 and 0.
 *
 * Two people: first-order linear phase correction (Vorberg and Wing 1996 [M]; Vorberg and Schulze, J Math Psychol 2002;46:56-87 [M];
 * gains for more people in Jacoby et al., Timing Time Percept 2015;3:52-87, abstract [S]), once a cycle: each
 * moves their next tick by a share of the last asynchrony. For two gains of sum s, 0 < s < 2, its variance is
 * (s_T² + 2 s s_M²) / (s (2 − s)), with s_T² and s_M² summed over both people [C].
 * Tempo itself is not corrected (period correction, Schulze, Cordes and Vorberg 2005 [M], is left out).
 */

/** An asynchrony beyond this moves nobody further (tool default; the authors of the fitting method give the same size as an example of a wild value [S]). */
const WILD_MS: Ms = 200;

/** Each one's share of the last asynchrony that is made up by the next cycle; stable while their sum is between 0 and 2. */
export type Gains = { compressor: number; ventilator: number };

/** The clock's next tick, in drill ms: `periodMs` later give or take its noise (sd `clockSdMs`), moved by a correction in ms. */
export function nextTick(
  tickMs: Ms,
  periodMs: Ms,
  clockSdMs: Ms,
  random: RandomState,
  correctionMs: Ms = 0,
): Ms {
  return tickMs + periodMs + clockSdMs * nextNormal(random) + correctionMs;
}

/** When the movement for a tick is made, in drill ms: its motor noise (sd `motorSdMs`) has no part in the next tick. */
export function moveAt(tickMs: Ms, motorSdMs: Ms, random: RandomState): Ms {
  return tickMs + motorSdMs * nextNormal(random);
}

/**
 * What each adds to their next tick, in ms, after the compressor's fourth beat came `asynchronyMs` after the breath
 * (negative: the breath was late): a late breath makes the compressor wait and the ventilator hurry.
 */
export function correctionsFor(asynchronyMs: Ms, gains: Gains): { compressorMs: Ms; ventilatorMs: Ms } {
  const felt = Math.max(-WILD_MS, Math.min(WILD_MS, asynchronyMs));
  return { compressorMs: -gains.compressor * felt, ventilatorMs: gains.ventilator * felt };
}

/** What one who hears a count adds to their next tick, in ms, after a beat made `asynchronyMs` after the count's. */
export function correctionToBeat(asynchronyMs: Ms, gain: number): Ms {
  return -gain * Math.max(-WILD_MS, Math.min(WILD_MS, asynchronyMs));
}
