import { nextUniform, type RandomState } from '../statistics/random.ts';
import type { Share } from '../units.ts';

/**
 * The mistakes that a rehearsal makes in a cycle, at most one in each:
 * `missed-breath-gap`: no breath, its place is left empty; `missed-breath-no-gap`: no breath, and the next compression comes in its place;
 * `fourth-compression`: four, and the breath a beat later; `early-breath`: the breath begins before the third compression is let up;
 * `late-letting-go`: the bag is still held well into the next compression; `compression-into-breath`: the next compression comes in
 * the breath's first part; `stall`: nobody moves for some seconds after the breath.
 */
export const FAULTS = [
  'missed-breath-gap',
  'missed-breath-no-gap',
  'fourth-compression',
  'early-breath',
  'late-letting-go',
  'compression-into-breath',
  'stall',
] as const;
export type Fault = (typeof FAULTS)[number];
/** Chance of each fault in a cycle. */
export type FaultRates = Record<Fault, Share>;
/** A fault to be made in a cycle, counted from 0 over the whole drill. */
export type PlantedFault = { cycle: number; fault: Fault };

/** Tool defaults: nine clean cycles in ten. No published rate of these faults in newborn resuscitation was found (check file, section 2). */
export const DEFAULT_FAULT_RATES: FaultRates = {
  'missed-breath-gap': 0.01,
  'missed-breath-no-gap': 0.01,
  'fourth-compression': 0.015,
  'early-breath': 0.02,
  'late-letting-go': 0.02,
  'compression-into-breath': 0.015,
  stall: 0.005,
};

/**
 * The fault of a cycle, or null: the planted one if there is one, else one by chance. Takes one draw in every case,
 * so that planting a fault changes no other. With `planted` and no `rates`, nothing comes by chance.
 */
export function pickFault(
  cycle: number,
  planted: readonly PlantedFault[] | undefined,
  rates: Partial<FaultRates> | undefined,
  random: RandomState,
): Fault | null {
  let left = nextUniform(random);
  const mine = planted?.find((one) => one.cycle === cycle);
  if (mine !== undefined) return mine.fault;
  const chances: Partial<FaultRates> =
    planted !== undefined && rates === undefined ? {} : { ...DEFAULT_FAULT_RATES, ...rates };
  for (const fault of FAULTS) {
    left -= chances[fault] ?? 0;
    if (left < 0) return fault;
  }
  return null;
}
