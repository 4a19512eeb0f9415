import type { Person } from '../journal.ts';
import { nextLogNormal, nextNormal, seedRandom } from '../statistics/random.ts';
import type { Ms, Share } from '../units.ts';

/**
 * What one synthetic person is like. Times in ms; sds are of normal draws; a sigma is the sd of a natural logarithm.
 * Where no study that we could read gives a figure, it is a tool default, chosen to look like a practised but human pair.
 */
export type PersonModel = {
  /** Own pace against the wanted one when unled, in %: 2 means every beat is 2 % too long. Tool default. */
  paceOffPct: number;
  /** How the pace changes while they compress (fatigue, or getting carried away), in % a minute: positive slows. Tool default, of
   * either sign between people: in a newborn-manikin trial the rate crept upwards in most arms (IEEE J Transl Eng Health Med, abstract [S]). */
  driftPctPerMin: number;
  /** Noise of the inner clock from beat to beat. The simulations in check file 3 take 10 to 18 ms (Jacoby's quartet [S]) and 20 (ours [C]). */
  clockSdMs: Ms;
  /** Noise of the hands' movement. The same simulations take 5 to 8 ms [S] and 10 [C]. */
  motorSdMs: Ms;
  /** Share of an asynchrony that they make up as compressor: they lead, so little (a quartet's leader corrects less, Wing et al. 2014 [S]). Tool default. */
  gainAsCompressor: number;
  /** The same as ventilator: they follow. Tool default. */
  gainAsVentilator: number;
  /** Share of an asynchrony against an audible count that they make up, in either role. Tool default. */
  gainToCount: number;
  /** Noise of the inner clock from breath to breath: four beats of the clock above would have twice its sd. Tool default. */
  breathClockSdMs: Ms;
  /** Noise of the squeeze: a slower movement than a push, and the switch closes late in it. Tool default. */
  breathMotorSdMs: Ms;
  /** How far the breath comes from the beat it is meant for: negative is ahead (people tap ahead of a beat; 25 ms is a tool default). */
  breathAheadMs: Ms;
  /** Part of a beat that the chest is held down, and its sigma. Tool defaults. */
  chestPressShare: Share;
  chestPressSigma: number;
  /** How long the bag is squeezed, and its sigma. Tool defaults. */
  breathPressMs: Ms;
  breathPressSigma: number;
};

export type PairModel = Record<Person, PersonModel>;
export type PairOverrides = { readonly [P in Person]?: Partial<PersonModel> };

export const DEFAULT_PERSON: PersonModel = {
  paceOffPct: 0,
  driftPctPerMin: 0.4,
  clockSdMs: 18,
  motorSdMs: 8,
  gainAsCompressor: 0.25,
  gainAsVentilator: 0.45,
  gainToCount: 0.4,
  breathClockSdMs: 34,
  breathMotorSdMs: 16,
  breathAheadMs: -25,
  chestPressShare: 0.4,
  chestPressSigma: 0.12,
  breathPressMs: 400,
  breathPressSigma: 0.1,
};

/** How people differ from one another: sds of pace and drift in %, sigma of the noises. Tool defaults. */
const SPREAD = { paceOffPct: 2, driftPctPerMin: 0.6, noiseSigma: 0.2 } as const;
const PEOPLE_STREAM = 4;

/** Two people drawn from a seed about the default one; what is overridden is exactly as given. */
export function drawPair(seed: number, overrides: PairOverrides = {}): PairModel {
  const random = seedRandom(seed, PEOPLE_STREAM);
  const draw = (): PersonModel => ({
    ...DEFAULT_PERSON,
    paceOffPct: DEFAULT_PERSON.paceOffPct + SPREAD.paceOffPct * nextNormal(random),
    driftPctPerMin: DEFAULT_PERSON.driftPctPerMin + SPREAD.driftPctPerMin * nextNormal(random),
    clockSdMs: nextLogNormal(random, DEFAULT_PERSON.clockSdMs, SPREAD.noiseSigma),
    motorSdMs: nextLogNormal(random, DEFAULT_PERSON.motorSdMs, SPREAD.noiseSigma),
    breathClockSdMs: nextLogNormal(random, DEFAULT_PERSON.breathClockSdMs, SPREAD.noiseSigma),
    breathMotorSdMs: nextLogNormal(random, DEFAULT_PERSON.breathMotorSdMs, SPREAD.noiseSigma),
  });
  return { A: { ...draw(), ...overrides.A }, B: { ...draw(), ...overrides.B } };
}

/** Length of one beat in ms when they compress unled, after so many minutes in the role. */
export function ownBeatMs(person: PersonModel, wantedBeatMs: Ms, minutes: number): Ms {
  return wantedBeatMs * (1 + person.paceOffPct / 100) * (1 + (person.driftPctPerMin / 100) * minutes);
}
