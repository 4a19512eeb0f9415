import type { Binding, Person } from '../journal.ts';
import {
  nextChance,
  nextLogNormal,
  nextUniform,
  type RandomState,
  seedRandom,
} from '../statistics/random.ts';
import type { Ms } from '../units.ts';
import { type Fault, type FaultRates, type PlantedFault, pickFault } from './faults.ts';
import type { HandoverModel } from './handovers.ts';
import { type CycleEnd, Instructor, type Situation, type Start } from './instructor.ts';
import { ownBeatMs, type PairModel, type PersonModel } from './people.ts';
import type { ScriptedCall } from './plans.ts';
import { correctionsFor, correctionToBeat, moveAt, nextTick } from './timing-model.ts';
import type { Truth } from './truth.ts';

/** One press as it was made, exact drill ms, before the switch and its clock had their part. */
export type Press = { by: Person; role: 'compressor' | 'ventilator'; onMs: Ms; offMs: Ms };
export type Performance = { presses: Press[]; calls: ScriptedCall[]; truth: Truth };

export type PerformanceInput = {
  seed: number;
  script: readonly ScriptedCall[];
  situation: Situation;
  binding: Binding;
  pair: PairModel;
  handovers: HandoverModel;
  planted: readonly PlantedFault[] | undefined;
  faultRates: Partial<FaultRates> | undefined;
};

/** One stream of chance for each use, so that a planted fault leaves the timing of all else as it was. */
const STREAMS = { timing: 0, faults: 1, handovers: 2, sizes: 3 } as const;
/** Guidance `weaned` is heard for so many cycles after every start; the real count falls silent once the pair is steady. Tool default. */
const WEANED_CYCLES = 6;
/** A pace change goes on for so many minutes of a stint; one that never ended would end in nonsense. Tool default. */
const LONGEST_DRIFT_MIN = 15;
/** How big the faults are, in ms: each drawn evenly from a range, but for the stall. Tool defaults, clear of every limit of design section 5. */
const SIZES = {
  earlyByMs: [70, 130],
  heldOverMs: [140, 220],
  intoBreathMs: [80, 250],
  leastRestartMs: 400,
  stall: { medianMs: 3000, sigma: 0.3 },
} as const;
const CHEST_PRESS = { leastMs: 60, mostOfBeat: 0.8 } as const;
const BREATH_PRESS = { leastMs: 300, mostMs: 600 } as const;
/** The old compressor's habit after a swap: presses, and the first one's delay after the new compressor's. Tool defaults: both begin together,
 * and the last stray is over 0.4 of a cycle before their first breath, so that section 5 tells them apart. */
const STRAYS = { count: 2, delayMs: [10, 60] } as const;
/** From the new hands being on to their first compression, when `taken` is called. Tool default. */
const TAKEN_LEAD = { medianMs: 400, sigma: 0.3 } as const;
const SEAMLESS_TAKEN_MS = [20, 250] as const;

/** Lets the pair play a script to its finish, or to its last call when that stops them. */
export function perform(input: PerformanceInput): Performance {
  return new Player(input).play();
}

/** A fault that shows only when the next cycle comes. */
type Pending = { cycle: number; fault: Fault; breath: Press | null; dueMs: Ms };

class Player {
  private readonly input: PerformanceInput;
  private readonly timing: RandomState;
  private readonly faults: RandomState;
  private readonly sizes: RandomState;
  private readonly instructor: Instructor;
  private readonly presses: Press[] = [];
  private readonly calls: ScriptedCall[] = [];
  private readonly truth: Truth;
  private cycle = 0;
  private cycleOfBout = 0;
  /** The ventilator's inner tick for the next breath; null when they have to find the beat anew. */
  private breathTickMs: Ms | null = null;
  /** First beat of the count since it last began, and the cycle it keeps; null when none is heard. */
  private count: { fromMs: Ms; cycleMs: Ms } | null = null;
  private stintMs: Ms = 0;
  private pending: Pending | null = null;

  constructor(input: PerformanceInput) {
    this.input = input;
    const stream = (name: keyof typeof STREAMS) => seedRandom(input.seed, STREAMS[name]);
    this.timing = stream('timing');
    this.faults = stream('faults');
    this.sizes = stream('sizes');
    this.instructor = new Instructor(input.script, input.situation, input.handovers, stream('handovers'));
    this.truth = { pair: input.pair, cycles: [], faults: [], handovers: [] };
  }

  play(): Performance {
    let start = this.instructor.after(null);
    while (start !== null) {
      const end = this.playCycle(start);
      start = this.instructor.after(end);
      this.cycle += 1;
      this.cycleOfBout += 1;
    }
    if (this.pending !== null) this.settle(this.pending, null);
    return { presses: this.presses, calls: [...this.instructor.made, ...this.calls], truth: this.truth };
  }

  private playCycle(start: Start): CycleEnd {
    const { roles, cycleMs } = this.instructor.situation;
    const compressor = this.input.pair[roles.compressor];
    const ventilator = this.input.pair[roles.ventilator];
    this.arrive(start);
    const fault = pickFault(this.cycle, this.input.planted, this.input.faultRates, this.faults);
    this.hear(start.tickMs, cycleMs);
    const wantedBeatMs = cycleMs / 4;
    const minutes = Math.min(LONGEST_DRIFT_MIN, (start.tickMs - this.stintMs) / 60_000);
    const beatMs = this.count !== null ? wantedBeatMs : ownBeatMs(compressor, wantedBeatMs, minutes);

    let tickMs = start.tickMs;
    const compressions: Press[] = [];
    for (let k = 0; k < (fault === 'fourth-compression' ? 4 : 3); k += 1) {
      const random = k < 3 ? this.timing : this.sizes;
      const onMs = moveAt(tickMs, compressor.motorSdMs, random);
      compressions.push(
        this.press(roles.compressor, 'compressor', onMs, chestPressMs(compressor, beatMs, random)),
      );
      tickMs = nextTick(tickMs, beatMs, compressor.clockSdMs, random);
    }
    const first = compressions[0] as Press;
    const last = compressions.at(-1) as Press;
    this.greet(start, first, beatMs);

    const calledMs = moveAt(tickMs, compressor.motorSdMs, this.timing);
    const foundMs = nextTick(tickMs, 0, ventilator.breathClockSdMs, this.timing);
    const lateMs = fault === 'fourth-compression' ? beatMs : 0;
    const breathTickMs = this.breathTickMs === null ? foundMs : this.breathTickMs + lateMs;
    const meantMs = moveAt(breathTickMs, ventilator.breathMotorSdMs, this.timing);
    const lengthMs = breathPressMs(ventilator, this.timing);
    const onMs = fault === 'early-breath' ? this.earlyOnset(last) : meantMs + ventilator.breathAheadMs;
    const isMissed = fault === 'missed-breath-gap' || fault === 'missed-breath-no-gap';
    const breath = isMissed ? null : this.press(roles.ventilator, 'ventilator', onMs, lengthMs);

    const asynchronyMs = isMissed || fault === 'early-breath' ? 0 : calledMs - meantMs;
    const gains = { compressor: compressor.gainAsCompressor, ventilator: ventilator.gainAsVentilator };
    const corrections = correctionsFor(asynchronyMs, gains);
    corrections.compressorMs += correctionToBeat(this.offCount(calledMs), compressor.gainToCount);
    corrections.ventilatorMs += correctionToBeat(this.offCount(meantMs), ventilator.gainToCount);
    const plannedMs = nextTick(tickMs, beatMs, compressor.clockSdMs, this.timing, corrections.compressorMs);
    const shiftMs = this.shiftOf(fault, plannedMs, beatMs, breath);
    this.breathTickMs =
      nextTick(breathTickMs, 4 * beatMs, ventilator.breathClockSdMs, this.timing, corrections.ventilatorMs) +
      shiftMs;
    if (fault !== null) this.note({ cycle: this.cycle, fault, breath, dueMs: calledMs }, last);
    const handsFreeMs = Math.max(last.offMs, breath?.offMs ?? 0);
    return { lastOnMs: last.onMs, lastReleaseMs: last.offMs, handsFreeMs, plannedMs, shiftMs };
  }

  /** What a start that is not simply the next one undoes. */
  private arrive(start: Start): void {
    if (start.why === 'goes on') return;
    this.breathTickMs = null;
    this.cycleOfBout = 0;
    this.count = null;
    if (start.why === 'restart' || start.handover?.isRoleChange) this.stintMs = start.tickMs;
  }

  /** What hangs on the first compression of a cycle: the last one's fault, the handover's end, `taken`, strays. */
  private greet(start: Start, first: Press, beatMs: Ms): void {
    if (this.pending !== null) this.settle(this.pending, start.why === 'goes on' ? first : null);
    this.truth.cycles.push({ cycle: this.cycle, startMs: first.onMs, compressor: first.by });
    const open = start.handover;
    if (open === null) return;
    const last = this.presses
      .filter((press) => press.role === 'compressor' && press.onMs < first.onMs)
      .at(-1);
    const { isRoleChange, ...handover } = open;
    const isStray = nextChance(this.sizes, this.input.handovers.strayRate);
    const strays = isRoleChange && isStray && this.input.binding === 'person' ? STRAYS.count : 0;
    const old = first.by === 'A' ? 'B' : 'A';
    const firstStrayMs = first.onMs + this.between(STRAYS.delayMs);
    for (let k = 0; k < strays; k += 1) {
      const lengthMs = chestPressMs(this.input.pair[old], beatMs, this.sizes);
      this.press(old, 'compressor', firstStrayMs + k * beatMs, lengthMs);
    }
    const lastOldMs = last?.onMs ?? first.onMs;
    const takenMs = this.callTaken(open.kind === 'seamless', open.calledMs, first);
    this.truth.handovers.push({
      cycle: this.cycle,
      ...handover,
      lastOldMs,
      firstNewMs: first.onMs,
      takenMs,
      strays,
    });
  }

  private callTaken(isSeamless: boolean, afterMs: Ms, first: Press): Ms | null {
    const isCalled = nextChance(this.sizes, this.input.handovers.takenRate);
    const leadMs = nextLogNormal(this.sizes, TAKEN_LEAD.medianMs, TAKEN_LEAD.sigma);
    if (!isCalled) return null;
    const wantedMs = isSeamless ? first.onMs + this.between(SEAMLESS_TAKEN_MS) : first.onMs - leadMs;
    const atMs = Math.max(afterMs + 1, Math.round(wantedMs));
    this.calls.push({ atMs, call: 'taken' });
    return atMs;
  }

  /** Enters a fault into the truth, at once or when the next cycle shows it. */
  private note(fault: Pending, last: Press): void {
    const enter = (atMs: Ms) => this.truth.faults.push({ cycle: fault.cycle, fault: fault.fault, atMs });
    if (fault.fault === 'fourth-compression') enter(last.onMs);
    else if (fault.fault === 'early-breath') enter(fault.breath?.onMs ?? fault.dueMs);
    else if (fault.fault === 'missed-breath-gap') enter(fault.dueMs);
    else this.pending = fault;
  }

  /** `next` is the next cycle's first compression, or null when none followed in the same bout. */
  private settle(pending: Pending, next: Press | null): void {
    this.pending = null;
    const { cycle, fault, breath, dueMs } = pending;
    const enter = (name: Fault, atMs: Ms) => this.truth.faults.push({ cycle, fault: name, atMs });
    if (fault === 'missed-breath-no-gap') enter(next === null ? 'missed-breath-gap' : fault, dueMs);
    if (next === null || breath === null) return;
    if (fault === 'late-letting-go') {
      breath.offMs = Math.max(breath.offMs, next.onMs + this.between(SIZES.heldOverMs));
      enter(fault, breath.offMs);
    }
    if (fault === 'compression-into-breath') enter(fault, next.onMs);
    if (fault === 'stall') enter(fault, breath.onMs);
  }

  /** By how much a fault moves the next cycle, in ms. */
  private shiftOf(fault: Fault | null, plannedMs: Ms, beatMs: Ms, breath: Press | null): Ms {
    if (fault === 'missed-breath-no-gap') return -beatMs;
    if (fault === 'stall') return nextLogNormal(this.sizes, SIZES.stall.medianMs, SIZES.stall.sigma);
    if (breath === null) return 0;
    if (fault === 'compression-into-breath')
      return breath.onMs + this.between(SIZES.intoBreathMs) - plannedMs;
    if (fault === 'late-letting-go') return Math.max(0, breath.onMs + SIZES.leastRestartMs - plannedMs);
    return 0;
  }

  private earlyOnset(third: Press): Ms {
    return Math.max(third.onMs + 1, third.offMs - this.between(SIZES.earlyByMs));
  }

  /** Begins the count anew when it was silent, or keeps another tempo, and stops it when nobody should hear it. */
  private hear(nowMs: Ms, cycleMs: Ms): void {
    const { guidance } = this.instructor.situation;
    const isHeard = guidance === 'led' || (guidance === 'weaned' && this.cycleOfBout < WEANED_CYCLES);
    if (!isHeard) this.count = null;
    else if (this.count?.cycleMs !== cycleMs) this.count = { fromMs: nowMs, cycleMs };
  }

  /** How far a time is after the count's nearest fourth beat; 0 when none is heard. */
  private offCount(ms: Ms): Ms {
    if (this.count === null) return 0;
    const { fromMs, cycleMs } = this.count;
    const past = ms - fromMs - 0.75 * cycleMs;
    return past - cycleMs * Math.round(past / cycleMs);
  }

  private press(by: Person, role: Press['role'], onMs: Ms, lengthMs: Ms): Press {
    const press = { by, role, onMs, offMs: onMs + lengthMs };
    this.presses.push(press);
    return press;
  }

  private between([least, most]: readonly [number, number]): number {
    return least + (most - least) * nextUniform(this.sizes);
  }
}

function chestPressMs(person: PersonModel, beatMs: Ms, random: RandomState): Ms {
  const lengthMs = nextLogNormal(random, person.chestPressShare * beatMs, person.chestPressSigma);
  return Math.max(CHEST_PRESS.leastMs, Math.min(CHEST_PRESS.mostOfBeat * beatMs, lengthMs));
}

function breathPressMs(person: PersonModel, random: RandomState): Ms {
  const lengthMs = nextLogNormal(random, person.breathPressMs, person.breathPressSigma);
  return Math.max(BREATH_PRESS.leastMs, Math.min(BREATH_PRESS.mostMs, lengthMs));
}
