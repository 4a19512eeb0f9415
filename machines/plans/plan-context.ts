import type { Ms } from '../units.ts';
import type { Person } from '../vocabulary.ts';
import type { Called, Leg, Plan } from './plan.ts';
import {
  callsInto,
  compressorIn,
  type DueCall,
  isSameCall,
  type PlanCall,
  type PlanDrill,
  withCall,
} from './plan-calls.ts';

/** A clock that comes later than this begins the next leg now, so that it has its full length (tool default). */
const LATE_MS: Ms = 2000;
/** Two swaps within this were called in two windows at once, each knowing nothing of the other (tool default). */
const CROSSED_MS: Ms = 1000;
/** From a check's start to its heart rate, or half the check if that is less (tool default, as in a rehearsal). */
const HEART_RATE_AFTER_MS: Ms = 5000;

const SWAP: PlanCall = { call: 'swap' };

export type PlanEvent =
  | { type: 'clock ticked'; atMs: Ms }
  /** A line has come: how the drill stands with it, and the call, if it is one. */
  | { type: 'drill changed'; atMs: Ms; drill: PlanDrill; call: PlanCall | null }
  /** This due call cannot be made now: it is let go. */
  | { type: 'call refused'; atMs: Ms; call: PlanCall }
  /** The instructor wants the next leg now. */
  | { type: 'leg.next'; atMs: Ms }
  /** The window that makes the calls is in this leg from then on. */
  | { type: 'leg.told'; atMs: Ms; leg: number };

export type PlanContext = {
  plan: Plan;
  /** Which leg is on, from 0; −1 before the first. */
  leg: number;
  startedMs: Ms;
  /** How long rests and checks that the leg does not ask for have held it so far, and since when one does. */
  heldMs: Ms;
  heldSinceMs: Ms | null;
  nowMs: Ms;
  /** By the journal. */
  seen: PlanDrill;
  /** What is to be called, in order; a call leaves when it is seen in the journal, or refused. */
  due: readonly DueCall[];
  /** Who was to compress in the last leg with roles. */
  compressor: Person | null;
  isHeartRateSaid: boolean;
  /** When the swap into this leg was called; null: none was, or the one that crossed it has been mended. */
  swappedMs: Ms | null;
  /** A rest or check of the plan has been ended by its own call, or could not be called. */
  isEnded: boolean;
  /** The leg before, where the call that ended it may be taken back: the instructor's own, or a rest or check of the plan. */
  before: LegBefore | null;
};
type LegBefore = Pick<PlanContext, 'leg' | 'startedMs' | 'heldMs' | 'compressor' | 'isHeartRateSaid'> & {
  drill: PlanDrill;
  isByHand: boolean;
};

/** How the drill stands once everything that is due has been called. */
export function drillAs({ seen, due }: Pick<PlanContext, 'seen' | 'due'>): PlanDrill {
  return due.reduce((drill, { request }) => withCall(drill, request), seen);
}

/** The leg that is on; null before the first. */
export function legOf({ plan, leg }: PlanContext): Leg | null {
  return plan.legs[leg] ?? null;
}

/** The leg after the one that is on; null after the last. */
export function nextLeg({ plan, leg }: PlanContext): Leg | null {
  return plan.legs[leg + 1] ?? null;
}

/** When the leg's time is up, in drill ms, by what has held it so far. */
export function legEndMs(context: PlanContext): Ms {
  return context.startedMs + (legOf(context)?.seconds ?? 0) * 1000 + heldSoFar(context);
}

/** The calls that end the leg as things stand: those into the next one, or finish. */
export function callsAhead(context: PlanContext): PlanCall[] {
  const next = nextLeg(context);
  return next === null ? [{ call: 'finish' }] : callsInto(next, context.compressor, drillAs(context));
}

/** When the begin of a drill is due by itself, in drill ms; never, where the instructor calls it. */
export function beginMs(begin: Called): Ms {
  return begin.by === 'itself' ? begin.warningSeconds * 1000 : Number.POSITIVE_INFINITY;
}

export function noted(context: PlanContext, event: PlanEvent): Partial<PlanContext> {
  const nowMs = Math.max(context.nowMs, event.atMs);
  if (event.type === 'call refused')
    return { nowMs, due: without(context.due, event.call), isEnded: context.isEnded || isStop(event.call) };
  if (event.type !== 'drill changed') return { nowMs };
  const { call, drill } = event;
  const isCrossed = isCrossedSwap(context, call, event.atMs) && drill.compressor !== context.compressor;
  return {
    nowMs,
    seen: drill,
    due: isCrossed ? [...context.due, { atMs: nowMs, request: SWAP }] : withoutSeen(context.due, call),
    swappedMs: isCrossed ? null : swappedAfter(context, call, event.atMs),
    isHeartRateSaid: context.isHeartRateSaid || call?.call === 'heart-rate',
    isEnded: context.isEnded || call?.call === 'resume' || call?.call === 'checked',
  };
}

/** A swap of one window right after the plan's own of another: both count, and the pair is as it was before. */
function isCrossedSwap({ swappedMs, due }: PlanContext, call: PlanCall | null, atMs: Ms): boolean {
  if (call?.call !== 'swap' || swappedMs === null || atMs - swappedMs > CROSSED_MS) return false;
  return !due.some(({ request }) => request.call === 'swap');
}

function swappedAfter({ swappedMs, due }: PlanContext, call: PlanCall | null, atMs: Ms): Ms | null {
  const isOurs = call?.call === 'swap' && due.some(({ request }) => request.call === 'swap');
  return isOurs ? atMs : swappedMs;
}

function withoutSeen(due: readonly DueCall[], call: PlanCall | null): readonly DueCall[] {
  return call === null ? due : without(due, call);
}

function isStop({ call }: PlanCall): boolean {
  return call === 'rest' || call === 'check';
}

/** What is due, but for the first that asks for the same. */
function without(due: readonly DueCall[], call: PlanCall): readonly DueCall[] {
  const place = due.findIndex(({ request }) => isSameCall(request, call));
  return due.filter((_, index) => index !== place);
}

/** The next leg is on from then, and its calls are due. */
export function entered(context: PlanContext, startedMs: Ms): Partial<PlanContext> {
  const leg = nextLeg(context);
  if (leg === null) return {};
  const drill = drillAs(context);
  const calls = callsInto(leg, context.compressor, drill);
  return {
    leg: context.leg + 1,
    startedMs,
    heldMs: 0,
    heldSinceMs: null,
    due: [...context.due, ...calls.map((request) => ({ atMs: startedMs, request }))],
    compressor: 'compressor' in leg ? compressorIn(leg, context.compressor, drill) : context.compressor,
    isHeartRateSaid: false,
    swappedMs: null,
    isEnded: false,
    before: leg.kind === 'rest' || leg.kind === 'check' ? leftLeg(context, false) : null,
  };
}

/**
 * Is a leg that began by itself in the window that makes the calls unknown here? Its time may differ by as much as a
 * clock may come late; a line from before this window's leg is out of date.
 */
export function isUnknownLeg(context: PlanContext, event: PlanEvent): boolean {
  if (event.type !== 'leg.told' || context.plan.legs[event.leg] === undefined) return false;
  if (event.leg > context.leg) return true;
  if (event.atMs <= context.startedMs) return false;
  return event.leg < context.leg || event.atMs - context.startedMs > LATE_MS;
}

/** In that leg from then on; due is what leads into it as the drill stands. */
export function adopted(context: PlanContext, leg: number, startedMs: Ms): Partial<PlanContext> {
  let before: PlanContext = { ...context, leg: -1, due: [], compressor: null };
  while (before.leg < leg - 1) before = { ...before, ...entered(before, startedMs), due: [] };
  return { nowMs: Math.max(context.nowMs, startedMs), ...entered(before, startedMs) };
}

/** The leg that is left now, with how the drill stands in it. */
export function leftLeg(context: PlanContext, isByHand: boolean): LegBefore {
  const { leg, startedMs, heldMs, compressor, isHeartRateSaid } = context;
  return { leg, startedMs, heldMs, compressor, isHeartRateSaid, drill: drillAs(context), isByHand };
}

/** Back in the leg before; nothing is due. */
export function wentBack({ before }: PlanContext): Partial<PlanContext> {
  if (before === null) return {};
  const { drill: _drill, isByHand: _isByHand, ...leg } = before;
  return { ...leg, due: [], swappedMs: null, isEnded: false, before: null };
}

export function isByItself(context: PlanContext): boolean {
  return legOf(context)?.next.by === 'itself';
}

export function warningFromMs(context: PlanContext): Ms | null {
  const next = legOf(context)?.next;
  return next?.by === 'itself' ? legEndMs(context) - next.warningSeconds * 1000 : null;
}

/** The plan's own time, unless the clock came so late that nobody was told in time. */
export function onTime({ nowMs }: PlanContext, wantedMs: Ms): Ms {
  return nowMs > wantedMs && nowMs - wantedMs <= LATE_MS ? wantedMs : nowMs;
}

export function heldSoFar({ heldMs, heldSinceMs, nowMs }: PlanContext): Ms {
  return heldMs + (heldSinceMs === null ? 0 : nowMs - heldSinceMs);
}

/** Is the drill in a rest or check that the leg does not ask for? */
export function isHeld(context: PlanContext): boolean {
  const { stage } = drillAs(context);
  const kind = legOf(context)?.kind;
  return (stage === 'resting' && kind !== 'rest') || (stage === 'checking' && kind !== 'check');
}

/** Has a rest or check of the plan been ended? An undo of it ends nothing. */
export function isLeft(context: PlanContext): boolean {
  return isInStop(context) && context.isEnded && drillAs(context).stage === 'under way';
}

function isInStop(context: PlanContext): boolean {
  const kind = legOf(context)?.kind;
  return kind === 'rest' || kind === 'check';
}

export function isNextCalled(context: PlanContext, call: PlanCall | null, atMs: Ms): boolean {
  if (call === null || nextLeg(context) === null || isCrossedSwap(context, call, atMs)) return false;
  const isOurs = context.due.some(({ request }) => isSameCall(request, call));
  if (isOurs) return false;
  const ahead = callsAhead(context);
  // What is changed in a rest or check does not end it: the last of the calls does.
  return (isInStop(context) ? ahead.slice(-1) : ahead).some((one) => isSameCall(one, call));
}

function heartRateMs(context: PlanContext, { seconds }: Leg): Ms {
  return context.startedMs + heldSoFar(context) + Math.min(HEART_RATE_AFTER_MS, seconds * 500);
}

export function isHeartRateDue(context: PlanContext): boolean {
  const leg = legOf(context);
  if (leg?.kind !== 'check' || leg.heartRateBpm === null || context.isHeartRateSaid) return false;
  return context.nowMs >= heartRateMs(context, leg);
}

/** What the plan says the heart rate is: it has no other source, and so cannot rise with the pair's timing. Shown to the pair: nobody may be there to say it. */
export function heartRateCall(context: PlanContext): DueCall[] {
  const leg = legOf(context);
  if (leg?.kind !== 'check' || leg.heartRateBpm === null) return [];
  const atMs = onTime(context, heartRateMs(context, leg));
  return [{ atMs, request: { call: 'heart-rate', bpm: leg.heartRateBpm, given: 'sight' } }];
}
