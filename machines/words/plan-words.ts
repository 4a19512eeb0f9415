import { CYCLE_MS } from '../pattern.ts';
import {
  type Called,
  type Leg,
  type LegCompressor,
  lengthOf,
  type Plan,
  type PractiseLeg,
} from '../plans/plan.ts';
import type { PlanCall } from '../plans/plan-calls.ts';
import type { PlanView } from '../plans/plan-view.ts';
import type { Ms } from '../units.ts';
import { GUIDANCE_WORDS, STANCE_WORDS, TECHNIQUE_WORDS } from './english.ts';
import { formatClock } from './format.ts';
import type { LearnersWords } from './languages.ts';
import { LEARNERS_ENGLISH } from './learners-english.ts';

type Names = { A: string; B: string };

/** Words of a plan under way. */
export const PLAN_WORDS = {
  title: 'Plan',
  legOf: (index: number, count: number) => `leg ${index + 1} of ${count}`,
  now: 'Now',
  first: 'First',
  next: 'Then',
  finish: 'finish',
  left: (clock: string) => `${clock} left`,
  beginsIn: (clock: string) => `Begin is called by itself in ${clock}`,
  waitsForBegin: 'Begin is yours to call',
  waiting: 'its time is up, the next is yours to call',
  held: 'held, it goes on after this',
  over: 'The plan is over.',
  nextLeg: 'Next leg now',
  beginNow: 'Begin the plan now',
  finishNow: 'Finish now',
} as const;

const COMPRESSOR_WORDS: Record<LegCompressor, string> = {
  stay: '',
  swap: 'swap',
  A: 'first person compresses',
  B: 'second person compresses',
};

/** A leg in a line: "swap, two-thumb, foot-end, mask, weaned, 2:00". */
export function legWords(leg: Leg, names?: Names): string {
  return [...legParts(leg, names), formatClock(leg.seconds * 1000)].filter((part) => part !== '').join(', ');
}

function legParts(leg: Leg, names: Names | undefined): string[] {
  switch (leg.kind) {
    case 'rest':
      return ['rest'];
    case 'check':
      return [leg.heartRateBpm === null ? 'heart-rate check' : `heart-rate check: ${leg.heartRateBpm}`];
    case 'ventilation':
      return [compressorWords(leg.compressor, names), 'ventilation alone', airwayWords(leg.airway)];
    case 'practise':
      return [
        compressorWords(leg.compressor, names),
        TECHNIQUE_WORDS[leg.technique],
        STANCE_WORDS[leg.stance],
        airwayWords(leg.airway),
        GUIDANCE_WORDS[leg.guidance],
        tempoWords(leg.cycleMs),
      ];
  }
}

function compressorWords(compressor: LegCompressor, names: Names | undefined): string {
  const isPerson = compressor === 'A' || compressor === 'B';
  return isPerson && names !== undefined ? `${names[compressor]} compresses` : COMPRESSOR_WORDS[compressor];
}

function airwayWords(airway: 'mask' | 'secured'): string {
  return airway === 'mask' ? 'mask' : 'airway secured';
}

function tempoWords(cycleMs: Ms): string {
  if (cycleMs === CYCLE_MS) return '';
  return `${cycleMs > CYCLE_MS ? 'slow' : 'fast'}: a cycle in ${cycleMs / 1000} s`;
}

/** How something is called: "by itself, after 10 s of warning". */
export function calledWords(called: Called): string {
  if (called.by === 'instructor') return 'when the instructor calls it';
  return called.warningSeconds === 0 ? 'by itself' : `by itself, after ${called.warningSeconds} s of warning`;
}

/** What is about to be called, as learners read it: "Swap, two-finger soon". Empty when it is nothing to them. */
export function soonWords(calls: readonly PlanCall[], language: LearnersWords = LEARNERS_ENGLISH): string {
  const words = calledParts(calls, language);
  if (words.length === 0) return '';
  const coming = words.join(', ');
  const text =
    language.soonStands === 'before' ? `${language.soon}: ${coming}` : `${coming} ${language.soon}`;
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** The same as learners hear it: each a word of assets/sounds/calls. */
export function soonSpoken(calls: readonly PlanCall[], language: LearnersWords): string[] {
  const words = calledParts(calls, language);
  if (words.length === 0) return [];
  return language.soonStands === 'before' ? [language.soon, ...words] : [...words, language.soon];
}

function calledParts(calls: readonly PlanCall[], { coming }: LearnersWords): string[] {
  return calls.flatMap((request) => {
    const called = comingOf(request);
    return called === null ? [] : [coming[called]];
  });
}

/** Which word a call is; null: the count and its tempo are heard, not read. */
function comingOf(request: PlanCall): keyof LearnersWords['coming'] | null {
  switch (request.call) {
    case 'technique':
      return request.technique;
    case 'stance':
      return request.stance;
    case 'airway':
      return request.airway;
    case 'begin':
    case 'swap':
    case 'rest':
    case 'resume':
    case 'check':
    case 'checked':
    case 'finish':
      return request.call;
    default:
      return null;
  }
}

/** The time left moves on in steps of 5 s, rounded up: the screen is to be still. */
export function leftWords(leftMs: Ms): string {
  return formatClock(Math.ceil(leftMs / 5000) * 5000);
}

/** Where the plan stands, in a line: "leg 1 of 2, 0:10 left, swap soon". */
export function standingWords({ state, leftMs, leg, plan, soon }: PlanView): string {
  if (state === 'over') return PLAN_WORDS.over;
  if (leg === null)
    return leftMs === null ? PLAN_WORDS.waitsForBegin : PLAN_WORDS.beginsIn(leftWords(leftMs));
  const place = PLAN_WORDS.legOf(leg.index, plan.legs.length);
  if (state === 'waiting') return `${place}: ${PLAN_WORDS.waiting}`;
  const left = `${place}, ${PLAN_WORDS.left(leftWords(leftMs ?? 0))}`;
  if (state === 'held') return `${left}: ${PLAN_WORDS.held}`;
  return soon.length === 0 ? left : `${left}: ${soonWords(soon).toLowerCase()}`;
}

/** What a plan is warned about, though it is allowed. */
export function planCautions({ legs }: Plan): string[] {
  const cautions: string[] = [];
  const practised = legs.flatMap((leg) => (leg.kind === 'practise' ? [leg] : []));
  if (practised.some(({ stance, airway }) => stance === 'head-end' && airway === 'mask'))
    cautions.push(
      'Head-end with a mask: two at the head are in each other’s way. Secure the airway first, or move the ventilator to the side.',
    );
  if (practised.some(({ stance, technique }) => stance === 'head-end' && technique === 'two-finger'))
    cautions.push('Head-end is for two-thumb.');
  if (practised.some(({ technique }) => technique === 'two-finger'))
    cautions.push(
      'Two-finger is the exception: two-thumb is the method of choice, and timing alone cannot compare them.',
    );
  if (legs.some((leg, index) => isHighCheck(leg) && legs[index + 1]?.kind === 'practise'))
    cautions.push('Compressions follow a heart rate of 60 or more: by the guidelines they stop there.');
  return cautions;
}

/** A leg that today's rig check was not made for. */
export function uncheckedWords({ technique, stance }: PractiseLeg): string {
  return `The rig was not checked today with ${TECHNIQUE_WORDS[technique]}, ${STANCE_WORDS[stance]}, which the plan comes to: check it again with all that the plan has.`;
}

function isHighCheck(leg: Leg): boolean {
  return leg.kind === 'check' && leg.heartRateBpm !== null && leg.heartRateBpm >= 60;
}

/** What was meant, for who looks back: null where there was no plan. */
export function plannedSentence({ plan }: { plan?: Plan | undefined }): string | null {
  if (plan === undefined) return null;
  return `Planned: ${plan.name} (${lengthWords(plan.legs.length, lengthOf(plan))}). What really happened is below.`;
}

/** "5 legs, 4:30". */
export function lengthWords(legs: number, lengthMs: Ms): string {
  return `${legs === 1 ? '1 leg' : `${legs} legs`}, ${formatClock(lengthMs)}`;
}
