import { and, assign, emit, or, setup, stateIn } from 'xstate';
import { HINT_CYCLES, type Hint, hintAfter } from './hints.ts';
import type { Airway, Binding, CallLine, CallName, Guidance, OpenLine } from './journal.ts';
import { type Arrangement, arrange, isSameArrangement } from './scoring/arrangement.ts';
import type { HandoverOutcome } from './scoring/bout.ts';
import { canBeTakenBack } from './undo.ts';
import { type Ms, toUs } from './units.ts';

/** Time comes in with every event; the chart has no clock, no delay and starts nothing. */
type At = { atMs: Ms };
/** A call as the chart takes it: the journal's own line, under its name. */
export type CallEvent = {
  [N in CallName]: { type: `call.${N}`; line: Extract<CallLine, { call: N }> } & At;
}[CallName];
export type ChartEvent =
  | CallEvent
  | ({ type: 'compression began' | 'compression ended' | 'breath began' | 'breath ended' } & At)
  | ({ type: 'clash began' | 'breath missed' | 'cycle started' | 'bout started' | 'bout ended' } & At)
  | ({ type: 'cycle completed'; shows: Hint | null } & At)
  | ({ type: 'handover opened' } & At)
  | ({ type: 'handover closed'; outcome: HandoverOutcome } & At)
  | ({ type: 'clock ticked' } & At);

/** What the chart says to the outside, as data: the driver delivers it. */
export type ChartEmitted =
  | { type: 'hint given'; hint: Hint; atMs: Ms }
  | { type: 'call announced'; call: CallName; atMs: Ms };

export type ChartContext = {
  binding: Binding;
  /** In force, and what was called and is not taken up yet (the same when no handover is open). */
  arrangement: Arrangement;
  called: Arrangement;
  airway: Airway;
  guidance: Guidance;
  cycleMs: Ms;
  heartRateBpm: number | null;
  /** When the count's first "one" falls; null while none is to come. */
  countFromMs: Ms | null;
  /** The latest call that undo could take back. */
  lastCall: { call: CallName; atMs: Ms } | null;
  /** What the last five cycles show. */
  recent: readonly (Hint | null)[];
  hint: { hint: Hint; atMs: Ms } | null;
};

/** A hint stays on the screen for 4 s (tool default: two cycles). */
const HINT_SHOWN_MS = 4000;

/**
 * The drill as people meet it: where it stands, whose hands are where, whether a count is heard, and
 * whether a change is under way. It is fed with facts and with calls that the fold accepted; it never scores.
 */
export const drillMachine = setup({
  types: {
    context: {} as ChartContext,
    events: {} as ChartEvent,
    emitted: {} as ChartEmitted,
    input: {} as OpenLine,
  },
  guards: {
    isChange: ({ context, event }) =>
      isArrangementCall(event) && !isSameArrangement(context.called, arrange(context.called, event.line)),
    isOtherAirway: ({ context, event }) =>
      event.type === 'call.airway' && event.line.airway !== context.airway,
    isOtherGuidance: ({ context, event }) =>
      event.type === 'call.guidance' && event.line.guidance !== context.guidance,
    isOtherTempo: ({ context, event }) =>
      event.type === 'call.tempo' && event.line.cycleMs !== context.cycleMs,
    isCounted: ({ context }) => context.guidance !== 'unled',
    isToCounted: ({ event }) => event.type === 'call.guidance' && event.line.guidance !== 'unled',
    isToSilent: ({ event }) => event.type === 'call.guidance' && event.line.guidance === 'unled',
    canBeTaken: ({ context }) =>
      context.binding === 'place' || context.called.roles.compressor === context.arrangement.roles.compressor,
    isCarriedOut: ({ event }) => event.type === 'handover closed' && isCarriedOut(event.outcome),
    canUndo: ({ context, event }) =>
      context.lastCall !== null &&
      canBeTakenBack(context.lastCall.call, toUs(context.lastCall.atMs), toUs(event.atMs)),
    hasNotBegun: stateIn({ stage: 'notBegun' }),
    isResting: stateIn({ stage: 'resting' }),
    isChecking: stateIn({ stage: 'checking' }),
    isUnderWay: or([stateIn({ stage: 'ready' }), stateIn({ stage: 'compressing' })]),
    isAtRest: or([
      stateIn({ stage: 'resting' }),
      stateIn({ stage: 'checking' }),
      stateIn({ stage: 'finished' }),
    ]),
    isHintDue: ({ context, event }) => dueHint(context, event) !== null,
    isHintOver: ({ context, event }) =>
      context.hint !== null && event.atMs - context.hint.atMs >= HINT_SHOWN_MS,
  },
  actions: {
    noteCall: assign(({ event }) =>
      isCall(event) ? { lastCall: { call: event.line.call, atMs: event.atMs } } : {},
    ),
    forgetCall: assign({ lastCall: null }),
    noteChange: assign(({ context, event }) =>
      isArrangementCall(event) ? { called: arrange(context.called, event.line) } : {},
    ),
    takeOver: assign(({ context }) => ({ arrangement: context.called })),
    stayAsBefore: assign(({ context }) => ({ called: context.arrangement })),
    noteAirway: assign(({ event }) => (event.type === 'call.airway' ? { airway: event.line.airway } : {})),
    noteGuidance: assign(({ event }) =>
      event.type === 'call.guidance' ? { guidance: event.line.guidance } : {},
    ),
    noteTempo: assign(({ event }) => (event.type === 'call.tempo' ? { cycleMs: event.line.cycleMs } : {})),
    noteHeartRate: assign(({ event }) =>
      event.type === 'call.heart-rate' ? { heartRateBpm: event.line.bpm } : {},
    ),
    noteCycle: assign(({ context, event }) =>
      event.type === 'cycle completed'
        ? { recent: [...context.recent, event.shows].slice(-HINT_CYCLES) }
        : {},
    ),
    forgetCycles: assign({ recent: [] }),
    countAfterLeadIn: assign(({ context, event }) => ({ countFromMs: event.atMs + context.cycleMs })),
    countFromHere: assign(({ event }) => ({ countFromMs: event.atMs })),
    countNoMore: assign({ countFromMs: null }),
    showHint: assign(({ context, event }) => {
      const hint = dueHint(context, event);
      return hint === null ? {} : { hint: { hint, atMs: event.atMs } };
    }),
    giveHint: emit(({ context, event }) => ({
      type: 'hint given' as const,
      hint: context.hint?.hint ?? 'keep going',
      atMs: event.atMs,
    })),
    announce: emit(({ event }) => ({
      type: 'call announced' as const,
      call: isCall(event) ? event.line.call : 'begin',
      atMs: event.atMs,
    })),
  },
}).createMachine({
  id: 'drill',
  type: 'parallel',
  context: ({ input }) => {
    const arrangement = { roles: input.roles, technique: input.technique, stance: input.stance };
    return {
      binding: input.binding,
      arrangement,
      called: arrangement,
      airway: input.airway,
      guidance: input.guidance,
      cycleMs: input.cycleMs,
      heartRateBpm: null,
      countFromMs: null,
      lastCall: null,
      recent: [],
      hint: null,
    };
  },
  states: {
    stage: {
      initial: 'notBegun',
      states: {
        notBegun: {
          on: {
            'call.begin': { target: 'ready', actions: 'announce' },
            'call.finish': { target: 'finished', actions: 'noteCall' },
          },
        },
        ready: {
          on: {
            'bout started': 'compressing',
            'call.rest': { target: 'resting', actions: ['noteCall', 'announce'] },
            'call.check': { target: 'checking', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        compressing: {
          on: {
            'call.rest': { target: 'resting', actions: ['noteCall', 'announce'] },
            'call.check': { target: 'checking', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        resting: {
          on: {
            'call.resume': { target: 'ready', actions: ['noteCall', 'announce'] },
            'call.check': { target: 'checking', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        checking: {
          on: {
            'call.checked': { target: 'ready', actions: ['noteCall', 'announce'] },
            'call.rest': { target: 'resting', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        finished: {},
      },
    },
    hands: {
      initial: 'up',
      states: { up: { on: { 'compression began': 'down' } }, down: { on: { 'compression ended': 'up' } } },
    },
    bag: {
      initial: 'released',
      states: {
        released: { on: { 'breath began': 'squeezed' } },
        squeezed: { on: { 'breath ended': 'released' } },
      },
    },
    count: {
      initial: 'silent',
      states: {
        silent: {
          on: {
            'call.begin': {
              guard: and(['hasNotBegun', 'isCounted']),
              target: 'heard',
              actions: 'countAfterLeadIn',
            },
            'call.resume': {
              guard: and(['isResting', 'isCounted']),
              target: 'heard',
              actions: 'countAfterLeadIn',
            },
            'call.checked': {
              guard: and(['isChecking', 'isCounted']),
              target: 'heard',
              actions: 'countAfterLeadIn',
            },
            'call.guidance': { guard: and(['isUnderWay', 'isToCounted']), target: 'joining' },
          },
        },
        joining: {
          always: { guard: 'isAtRest', target: 'silent' },
          on: {
            'cycle started': { target: 'heard', actions: 'countFromHere' },
            'call.guidance': { guard: 'isToSilent', target: 'silent' },
          },
        },
        heard: {
          always: { guard: 'isAtRest', target: 'silent', actions: 'countNoMore' },
          on: {
            'call.guidance': { guard: 'isToSilent', target: 'silent', actions: 'countNoMore' },
            'call.tempo': { guard: 'isOtherTempo', target: 'joining', actions: 'countNoMore' },
          },
        },
      },
    },
    handover: {
      initial: 'none',
      states: {
        none: { on: { 'handover opened': 'called' } },
        called: {
          on: {
            'call.taken': { guard: 'canBeTaken', actions: ['noteCall', 'announce'] },
            'handover closed': [
              { guard: 'isCarriedOut', target: 'none', actions: 'takeOver' },
              { target: 'none', actions: 'stayAsBefore' },
            ],
          },
        },
      },
    },
    arrangement: {
      initial: 'open',
      on: { 'bout started': { actions: ['takeOver', 'forgetCycles'] } },
      states: {
        open: {
          on: {
            'call.swap': { guard: 'isChange', actions: ['noteChange', 'noteCall', 'announce'] },
            'call.technique': { guard: 'isChange', actions: ['noteChange', 'noteCall', 'announce'] },
            'call.stance': { guard: 'isChange', actions: ['noteChange', 'noteCall', 'announce'] },
            'call.finish': 'fixed',
          },
        },
        fixed: {},
      },
    },
    settings: {
      on: {
        'call.airway': { guard: 'isOtherAirway', actions: ['noteAirway', 'noteCall'] },
        'call.guidance': { guard: 'isOtherGuidance', actions: ['noteGuidance', 'noteCall'] },
        'call.tempo': { guard: 'isOtherTempo', actions: ['noteTempo', 'noteCall'] },
        'call.heart-rate': { actions: ['noteHeartRate', 'noteCall', 'announce'] },
        'call.undo': { guard: 'canUndo', actions: 'forgetCall' },
      },
    },
    hint: {
      initial: 'none',
      on: {
        'cycle completed': [
          { guard: 'isHintDue', target: '.shown', actions: ['showHint', 'giveHint', 'noteCycle'] },
          { actions: 'noteCycle' },
        ],
        'bout ended': '.none',
      },
      states: { none: {}, shown: { on: { 'clock ticked': { guard: 'isHintOver', target: 'none' } } } },
    },
  },
});

function isCall(event: ChartEvent): event is CallEvent {
  return event.type.startsWith('call.');
}

function isArrangementCall(
  event: ChartEvent,
): event is Extract<CallEvent, { type: 'call.swap' | 'call.technique' | 'call.stance' }> {
  return event.type === 'call.swap' || event.type === 'call.technique' || event.type === 'call.stance';
}

/** Was what had been called carried out, or does the next bout have it? */
function isCarriedOut(outcome: HandoverOutcome): boolean {
  return outcome === 'taken up' || outcome === 'seamless' || outcome === 'cut short';
}

/** The hint a completed cycle calls for; never while unled. */
function dueHint(context: ChartContext, event: ChartEvent): Hint | null {
  if (event.type !== 'cycle completed' || context.guidance === 'unled') return null;
  const recent = [...context.recent, event.shows].slice(-HINT_CYCLES);
  return hintAfter(recent, event.atMs, context.hint?.atMs ?? null);
}
