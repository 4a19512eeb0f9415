import type { CallLine } from '../journal.ts';
import type { Ms } from '../units.ts';
import type { Airway, Guidance, Person, Stance, Technique } from '../vocabulary.ts';
import type { Leg } from './plan.ts';

type WithoutTime<C> = C extends CallLine ? Omit<C, 'kind' | 'at'> : never;
/** A call that a plan asks for, before it has its time. */
export type PlanCall = WithoutTime<CallLine>;
/** A call that is due from this time of the drill on. */
export type DueCall = { atMs: Ms; request: PlanCall };

/** How the drill stands: what was last called, whether or not it has been taken up. */
export type PlanDrill = {
  stage: 'not begun' | 'under way' | 'resting' | 'checking' | 'finished';
  compressor: Person;
  technique: Technique;
  stance: Stance;
  airway: Airway;
  guidance: Guidance;
  cycleMs: Ms;
};

/** Who is to compress in a leg. `before`: who was to in the leg before that had roles; null: there was none. */
export function compressorIn(leg: Leg, before: Person | null, drill: PlanDrill): Person {
  if (!('compressor' in leg) || leg.compressor === 'stay') return drill.compressor;
  return leg.compressor === 'swap' ? otherPerson(before ?? drill.compressor) : leg.compressor;
}

/**
 * The calls that lead into a leg, in the order they are made: only what is not so already, people first, and last what
 * sets them going. Changes in a rest or check are called before it ends, so that they are no handover.
 */
export function callsInto(leg: Leg, before: Person | null, drill: PlanDrill): PlanCall[] {
  if (leg.kind === 'rest') return drill.stage === 'resting' ? [] : [{ call: 'rest' }];
  if (leg.kind === 'check') return drill.stage === 'checking' ? [] : [{ call: 'check' }];
  const calls: PlanCall[] = [];
  if (compressorIn(leg, before, drill) !== drill.compressor) calls.push({ call: 'swap' });
  if (leg.kind === 'practise') {
    if (leg.technique !== drill.technique) calls.push({ call: 'technique', technique: leg.technique });
    if (leg.stance !== drill.stance) calls.push({ call: 'stance', stance: leg.stance });
  }
  if (leg.airway !== drill.airway) calls.push({ call: 'airway', airway: leg.airway });
  // A count of compressions says nothing to a pair that only ventilates.
  const guidance = leg.kind === 'ventilation' ? 'unled' : leg.guidance;
  if (guidance !== drill.guidance) calls.push({ call: 'guidance', guidance });
  if (leg.kind === 'practise' && leg.cycleMs !== drill.cycleMs) {
    calls.push({ call: 'tempo', cycleMs: leg.cycleMs });
  }
  if (drill.stage === 'not begun') {
    calls.push(leg.kind === 'ventilation' ? { call: 'begin', stage: 'ventilation' } : { call: 'begin' });
  }
  if (drill.stage === 'resting') calls.push({ call: 'resume' });
  if (drill.stage === 'checking') calls.push({ call: 'checked' });
  return calls;
}

/** How the drill stands once a call has been made. */
export function withCall(drill: PlanDrill, request: PlanCall): PlanDrill {
  switch (request.call) {
    case 'begin':
    case 'resume':
    case 'checked':
      return { ...drill, stage: 'under way' };
    case 'rest':
      return { ...drill, stage: 'resting' };
    case 'check':
      return { ...drill, stage: 'checking' };
    case 'finish':
      return { ...drill, stage: 'finished' };
    case 'swap':
      return { ...drill, compressor: otherPerson(drill.compressor) };
    case 'technique':
      return { ...drill, technique: request.technique };
    case 'stance':
      return { ...drill, stance: request.stance };
    case 'airway':
      return { ...drill, airway: request.airway };
    case 'guidance':
      return { ...drill, guidance: request.guidance };
    case 'tempo':
      return { ...drill, cycleMs: request.cycleMs };
    default:
      return drill;
  }
}

/** Do two ask for the same? */
export function isSameCall(one: PlanCall, other: PlanCall): boolean {
  return hasSameFields(one, other);
}

export function isSameDrill(one: PlanDrill, other: PlanDrill): boolean {
  return hasSameFields(one, other);
}

function hasSameFields<T extends object>(one: T, other: T): boolean {
  const fields = new Set([...Object.keys(one), ...Object.keys(other)]) as Set<keyof T>;
  return [...fields].every((field) => one[field] === other[field]);
}

function otherPerson(person: Person): Person {
  return person === 'A' ? 'B' : 'A';
}
