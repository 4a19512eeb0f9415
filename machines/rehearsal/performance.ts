import type { Binding, Guidance, Person, Roles } from '../journal.ts';
import { nextLogNormal, nextUniform, type RandomState, seedRandom } from '../statistics/random.ts';
import type { Ms } from '../units.ts';
import { type Fault, type FaultRates, type PlantedFault, pickFault } from './faults.ts';
import type { HandoverModel } from './handovers.ts';
import { Instructor } from './instructor.ts';
import { ownBeatMs, type PairModel, type PersonModel } from './people.ts';
import type { ScriptedCall } from './plans.ts';
import { correctionsFor, correctionToBeat, moveAt, nextTick } from './timing-model.ts';
import type { Truth } from './truth.ts';

/** One press as it was made: exact ms, before the switch and its clock had their part. */
export type Press = { by: Person; role: 'compressor' | 'ventilator'; onMs: Ms; offMs: Ms };

export type Performance = { presses: Press[]; calls: ScriptedCall[]; truth: Truth };

export type PerformanceInput = {
  seed: number;
  script: readonly ScriptedCall[];
  roles: Roles;
  guidance: Guidance;
  binding: Binding;
  cycleMs: Ms;
  pair: PairModel;
  handovers: HandoverModel;
  planted: readonly PlantedFault[] | undefined;
  faultRates: Partial<FaultRates> | undefined;
};

/** Guidance `weaned` is heard for so many cycles after every start; the real count falls silent once the pair is steady. */
const WEANED_CYCLES = 6;
/** Longest stint over which a pace change goes on; a pace that changes for ever would end in nonsense. */
const LONGEST_DRIFT_MIN = 15;
const STALL = { medianMs: 3000, sigma: 0.3 } as const;

/** Lets the pair play a script from its first call to its finish (or to its end, when it has none). */
export function perform(input: PerformanceInput): Performance {
  return new Player(input).play();
}

/** What one cycle leaves for the next. */
type CycleEnd = {
  /** The compressor's next tick if nothing is called, and what a fault adds to everybody's. */
  nextTickMs: Ms;
  lastReleaseMs: Ms;
  fault: Fault | null;
  breath: Press | null;
};

class Player {
  private readonly timing: RandomState;
  private readonly chance: RandomState;
  private readonly size: RandomState;
  private readonly presses: Press[] = [];
  private readonly truth: Truth;
  private readonly instructor: Instructor;
  private cycle = 0;
  private cycleInBout = 0;
  /** The ventilator's inner tick for the next breath; null when they must find the beat anew. */
  private breathTickMs: Ms | null = null;
  /** Where the count, if heard, has its first beat of a cycle. */
  private countMs: Ms = 0;
  private stintMs: Ms = 0;

  constructor(private readonly input: PerformanceInput) {
    this.timing = seedRandom(input.seed, 0);
    this.chance = seedRandom(input.seed, 1);
    this.size = seedRandom(input.seed, 3);
    this.truth = { pair: input.pair, cycles: [], faults: [], handovers: [] };
    this.instructor = new Instructor(input, seedRandom(input.seed, 2), this.truth);
  }
}
