import { assign, not, setup } from 'xstate';
import type { Plan } from './plan.ts';
import { isSameDrill, type PlanDrill } from './plan-calls.ts';
import {
  adopted,
  beginMs,
  drillAs,
  entered,
  heartRateCall,
  heldSoFar,
  isByItself,
  isHeartRateDue,
  isHeld,
  isLeft,
  isNextCalled,
  isUnknownLeg,
  leftLeg,
  legEndMs,
  nextLeg,
  noted,
  onTime,
  type PlanContext,
  type PlanEvent,
  warningFromMs,
  wentBack,
} from './plan-context.ts';

/** In every leg, whatever its state: the instructor wants what comes next now. */
const NEXT_LEG = [
  { guard: 'isLast', target: 'over', actions: ['note', 'finish'] },
  { target: 'running', actions: ['note', 'enter'] },
] as const;
/** In a leg that is not held: an undo, or the instructor's own call of what comes next. */
const TAKEN_BACK = [
  { guard: 'isTakenBack', target: 'running', actions: 'goBack' },
  { guard: 'isStopTakenBack', target: 'waiting', actions: 'goBack' },
] as const;
const BY_HAND = { target: 'running', actions: 'enterByHand' } as const;
/** In a leg that is not held, before anything that time brings. */
const STOPPED = [
  { guard: 'hasFinished', target: 'over' },
  { guard: 'isLeft', target: 'left' },
  { guard: 'isHeld', target: 'held', actions: 'hold' },
] as const;

/**
 * A plan as it is run: which leg is on, when the next is warned of and called, and what is due. It makes no call itself, has
 * no clock and starts nothing. The instructor's own calls stand: what is so already is not called again, a rest or check
 * of theirs holds the leg, and where they call what comes next, the next leg has begun.
 */
export const planRunner = setup({
  types: {
    context: {} as PlanContext,
    events: {} as PlanEvent,
    input: {} as { plan: Plan; drill: PlanDrill },
  },
  guards: {
    hasBegun: ({ context }) => drillAs(context).stage !== 'not begun',
    hasFinished: ({ context }) => drillAs(context).stage === 'finished',
    isBeginDue: ({ context }) => context.nowMs >= beginMs(context.plan.begin),
    isTimeUp: ({ context }) => isByItself(context) && context.nowMs >= legEndMs(context),
    isOverdue: ({ context }) => !isByItself(context) && context.nowMs >= legEndMs(context),
    isWarningDue: ({ context }) => {
      const fromMs = warningFromMs(context);
      return fromMs !== null && context.nowMs >= fromMs;
    },
    isLast: ({ context }) => nextLeg(context) === null,
    isHeld: ({ context }) => isHeld(context),
    isLeft: ({ context }) => isLeft(context),
    isHeartRateDue: ({ context }) => isHeartRateDue(context),
    isNextCalled: ({ context, event }) =>
      event.type === 'drill changed' && isNextCalled(context, event.call, event.atMs),
    isCalledByHand: ({ context, event }) =>
      event.type === 'drill changed' && !isByItself(context) && isNextCalled(context, event.call, event.atMs),
    isUnknownLeg: ({ context, event }) => isUnknownLeg(context, event),
    isTakenBack: ({ context, event }) => context.before?.isByHand === true && isBackBefore(context, event),
    isStopTakenBack: ({ context, event }) =>
      context.before?.isByHand === false && isBackBefore(context, event),
  },
  actions: {
    note: assign(({ context, event }) => noted(context, event)),
    enter: assign(({ context, event }) => entered(context, event.atMs)),
    enterByHand: assign(({ context, event }) => {
      const after = { ...context, ...noted(context, event) };
      const isSwap = event.type === 'drill changed' && event.call?.call === 'swap';
      const swappedMs = isSwap ? event.atMs : null;
      return { ...after, ...entered(after, event.atMs), before: leftLeg(context, true), swappedMs };
    }),
    goBack: assign(({ context, event }) => ({ ...noted(context, event), ...wentBack(context) })),
    adopt: assign(({ context, event }) =>
      event.type === 'leg.told' ? adopted(context, event.leg, event.atMs) : {},
    ),
    enterOnTime: assign(({ context }) => entered(context, onTime(context, legEndMs(context)))),
    enterFirstOnTime: assign(({ context }) => entered(context, onTime(context, beginMs(context.plan.begin)))),
    finish: assign(({ context }) => ({
      due: [
        ...context.due,
        { atMs: onTime(context, legEndMs(context)), request: { call: 'finish' as const } },
      ],
    })),
    sayHeartRate: assign(({ context }) => ({
      isHeartRateSaid: true,
      due: [...context.due, ...heartRateCall(context)],
    })),
    hold: assign(({ context }) => ({ heldSinceMs: context.nowMs })),
    holdNoMore: assign(({ context }) => ({ heldMs: heldSoFar(context), heldSinceMs: null })),
  },
}).createMachine({
  id: 'plan',
  initial: 'notBegun',
  context: ({ input }) => ({
    plan: input.plan,
    leg: -1,
    startedMs: 0,
    heldMs: 0,
    heldSinceMs: null,
    nowMs: 0,
    seen: input.drill,
    due: [],
    compressor: null,
    isHeartRateSaid: false,
    swappedMs: null,
    isEnded: false,
    before: null,
  }),
  on: {
    'leg.told': [{ guard: 'isUnknownLeg', target: '.running', actions: 'adopt' }, { actions: 'note' }],
    '*': { actions: 'note' },
  },
  states: {
    notBegun: {
      on: { 'leg.next': { target: 'running', actions: ['note', 'enter'] } },
      always: [
        { guard: 'hasFinished', target: 'over' },
        { guard: 'hasBegun', target: 'running', actions: 'enter' },
        { guard: 'isBeginDue', target: 'running', actions: 'enterFirstOnTime' },
      ],
    },
    running: {
      on: {
        'leg.next': NEXT_LEG,
        'drill changed': [...TAKEN_BACK, { guard: 'isCalledByHand', ...BY_HAND }, { actions: 'note' }],
      },
      always: [
        ...STOPPED,
        { guard: 'isHeartRateDue', actions: 'sayHeartRate' },
        { guard: 'isTimeUp', target: 'ended' },
        { guard: 'isOverdue', target: 'waiting' },
        { guard: 'isWarningDue', target: 'warned' },
      ],
    },
    warned: {
      on: {
        'leg.next': NEXT_LEG,
        'drill changed': [...TAKEN_BACK, { guard: 'isNextCalled', ...BY_HAND }, { actions: 'note' }],
      },
      always: [
        ...STOPPED,
        { guard: 'isHeartRateDue', actions: 'sayHeartRate' },
        { guard: 'isTimeUp', target: 'ended' },
      ],
    },
    waiting: {
      on: {
        'leg.next': NEXT_LEG,
        'drill changed': [...TAKEN_BACK, { guard: 'isNextCalled', ...BY_HAND }, { actions: 'note' }],
      },
      always: [...STOPPED],
    },
    held: {
      on: {
        'leg.next': NEXT_LEG,
      },
      always: [
        { guard: 'hasFinished', target: 'over' },
        { guard: not('isHeld'), target: 'running', actions: 'holdNoMore' },
      ],
    },
    /** Its time is up. */
    ended: {
      always: [
        { guard: 'isLast', target: 'over', actions: 'finish' },
        { target: 'running', actions: 'enterOnTime' },
      ],
    },
    /** A rest or check that the instructor has ended before its time. */
    left: {
      always: [
        { guard: 'isLast', target: 'over' },
        { target: 'running', actions: 'enter' },
      ],
    },
    over: { on: { 'leg.told': { actions: 'note' } } },
  },
});

/** Has an undo brought back how the drill stood in the leg before? */
function isBackBefore({ before }: PlanContext, event: PlanEvent): boolean {
  const isUndo = event.type === 'drill changed' && event.call?.call === 'undo';
  return isUndo && before !== null && isSameDrill(event.drill, before.drill);
}
