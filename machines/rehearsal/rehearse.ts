import {
  type Binding,
  type BodyLine,
  type Guidance,
  MAX_AT_MS,
  type OpenLine,
  type Rig,
  type Technique,
} from '../journal.ts';
import { firstPractise, type Plan } from '../plans/plan.ts';
import { READY_MADE, type ReadyMadeName } from '../plans/ready-made.ts';
import { unattendedCalls } from '../plans/unattended.ts';
import type { Ms } from '../units.ts';
import type { FaultRates, PlantedFault } from './faults.ts';
import { DEFAULT_HANDOVERS, type HandoverModel } from './handovers.ts';
import { openLineOf } from './open-line.ts';
import { drawPair, type PairOverrides } from './people.ts';
import { perform } from './performance.ts';
import { BEGIN_MS, type RehearsalPlan, type ScriptedCall, scriptOf } from './plans.ts';
import { linesOf, QUIET_SWITCHES, roundToStep, type SwitchNoise } from './switches.ts';
import { roundTruth, type Truth } from './truth.ts';

/**
 * A synthetic pair: two invented people whose presses come from the stated model of human timing in `timing-model.ts`,
 * with the mistakes of `faults.ts` and the handovers of `handovers.ts`. What is not modelled: technique and stance change the
 * pauses but not the timing, people do not tire but drift, mistakes come singly and without memory, and calls that cancel out.
 */
export type RehearsalOptions = {
  /** A whole number from 0: the same options give the same journal, byte for byte. */
  seed: number;
  /** From begin to finish; 2 when not given, at least 0.1, at most what a journal holds. A `script` has its own length. */
  minutes?: number;
  /** `two-minutes-and-swap` when not given. A plan that comes with the station is run unattended, and has its own length. */
  plan?: RehearsalPlan | ReadyMadeName;
  /** Instead of a plan: the calls in order of time, the first a begin. */
  script?: readonly ScriptedCall[];
  people?: OpenLine['people'];
  /** `manikin`, or `rhythm` with the person binding, when not given. */
  rig?: Rig;
  binding?: Binding;
  guidance?: Guidance;
  technique?: Technique;
  /** Milliseconds a cycle; 2000 when not given. */
  cycleMs?: Ms;
  /** The step of the switches' times, ms; 1, as keyboards have, when not given; 0 for whole microseconds. */
  stepMs?: Ms;
  noise?: Partial<SwitchNoise>;
  /** A UUID; drawn from the seed when not given. */
  id?: string;
  /** ISO 8601 in UTC; a fixed morning when not given. */
  openedAt?: string;
  /** What is given here of a person is exactly so; the rest is drawn from the seed. */
  pair?: PairOverrides;
  handovers?: Partial<HandoverModel>;
  /** Chance of each fault in a cycle, 0 to 1; those not given keep their default. */
  faultRates?: Partial<FaultRates>;
  /** Faults at known cycles. Without `faultRates`, no others come by chance. */
  planted?: readonly PlantedFault[];
};

export type Rehearsal = { open: OpenLine; lines: BodyLine[]; truth: Truth };

const MINUTES = { usual: 2, least: 0.1, most: (MAX_AT_MS - 60_000) / 60_000 } as const;

/**
 * Plays a drill and writes its journal, with the truth beside it. Times are drill ms with at most three decimals.
 * Throws a RangeError on a seed or a length that cannot be, on a person binding with a manikin rig,
 * and on a plan with ventilation alone, which the pair does not play.
 */
export function rehearse(options: RehearsalOptions): Rehearsal {
  const { seed, stepMs = 1, minutes = MINUTES.usual } = options;
  if (!(minutes >= MINUTES.least && minutes <= MINUTES.most)) {
    throw new RangeError(`${minutes} minutes is not ${MINUTES.least} to ${MINUTES.most}`);
  }
  const plan = options.script === undefined ? readyMade(options.plan) : null;
  const { plan: _name, ...chosen } = options;
  const open = openLineOf({ ...chosen, ...openingOf(plan), stepMs });
  const { roles, technique, stance, guidance, binding, cycleMs } = open;
  const performance = perform({
    seed,
    script: options.script ?? callsOf(options.plan ?? 'two-minutes-and-swap', minutes * 60_000, open),
    situation: { roles, technique, stance, guidance, cycleMs },
    binding,
    pair: drawPair(seed, options.pair),
    handovers: { ...DEFAULT_HANDOVERS, ...options.handovers },
    planted: options.planted,
    faultRates: options.faultRates,
  });
  const lines = linesOf(performance, {
    seed,
    binding,
    stepMs,
    noise: { ...QUIET_SWITCHES, ...options.noise },
  });
  return { open, lines, truth: roundTruth(performance.truth, (ms) => roundToStep(ms, stepMs)) };
}

/** The station's own plan of that name; null for the rehearsal's. */
function readyMade(name: RehearsalOptions['plan']): Plan | null {
  if (name === undefined || !Object.hasOwn(READY_MADE, name)) return null;
  const plan = READY_MADE[name as ReadyMadeName];
  if (plan.legs.some((leg) => leg.kind === 'ventilation')) {
    throw new RangeError(`the plan ${name} has ventilation alone, which a rehearsed pair does not play`);
  }
  return plan;
}

function openingOf(
  plan: Plan | null,
): Partial<Pick<OpenLine, 'technique' | 'guidance' | 'cycleMs'>> & { plan?: Plan } {
  const first = plan === null ? null : firstPractise(plan);
  if (plan === null || first === null) return {};
  const { technique, guidance, cycleMs } = first;
  return { technique, guidance, cycleMs, plan };
}

function callsOf(name: RehearsalPlan | ReadyMadeName, lengthMs: Ms, open: OpenLine): ScriptedCall[] {
  if (open.plan === undefined) return scriptOf(name as RehearsalPlan, lengthMs);
  return unattendedCalls(open.plan, open, BEGIN_MS).map(({ atMs, request }) => ({ atMs, ...request }));
}
