import { and, assign, emit, not, or, setup, stateIn } from 'xstate';
import {
  asGiven,
  atTempo,
  brokenOff,
  type CountOrder,
  countAfterLeadIn,
  countAtNextOne,
  endedWithCycle,
  isGiven,
} from './count/count-order.ts';
import { isLost, isSteady, WEANING, type Weaning, withCycle } from './count/weaning.ts';
import type { CallEvent, ChartContext, ChartEmitted, ChartEvent } from './drill-events.ts';
import { HINT_CYCLES, type Hint, hintAfter } from './hints.ts';
import type { OpenLine } from './journal.ts';
import { COMPRESS_BELOW_BPM } from './pattern.ts';
import { arrange, isSameArrangement } from './scoring/arrangement.ts';
import type { HandoverOutcome } from './scoring/bout.ts';
import { canBeTakenBack } from './undo.ts';
import { type Ms, toUs } from './units.ts';

/** A hint stays on the screen for 4 s (tool default: two cycles). */
const HINT_SHOWN_MS = 4000;
/** One press too many can slip; who makes a second after a swap has not noticed (tool default). */
const STRAYS_TOLD = 2;

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
    hasToReturn: ({ context, event }) =>
      context.guidance === 'weaned' && isLost(weaningAfter(context, event), event.atMs, context.weaningRule),
    isEnding: ({ context, event }) => context.order !== null && isGiven(context.order, event.atMs),
    isLapse: ({ context, event }) => isLapse(context, event),
    canFallSilent: ({ context, event }) =>
      context.guidance === 'weaned' &&
      event.type === 'cycle completed' &&
      isSteady(weaningAfter(context, event), event.atMs, context.weaningRule),
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
    beginsVentilating: ({ event }) => event.type === 'call.begin' && event.line.stage === 'ventilation',
    isVentilating: ({ context }) => context.isVentilating,
    isToVentilate: ({ context }) =>
      // Under 60 was the last announced: what comes now are compressions.
      context.heartRateBpm === null ? context.isVentilating : context.heartRateBpm >= COMPRESS_BELOW_BPM,
    isToBeTold: ({ context, event }) =>
      event.type === 'stray counted' && event.count >= STRAYS_TOLD && context.breathsToldMs === null,
    isToldOver: ({ context, event }) =>
      context.breathsToldMs !== null && event.atMs - context.breathsToldMs >= HINT_SHOWN_MS,
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
      event.type === 'call.heart-rate'
        ? {
            heartRateBpm: event.line.bpm,
            heartRateShownMs: event.line.given === 'sight' ? event.atMs : null,
          }
        : {},
    ),
    startVentilating: assign({ isVentilating: true }),
    endVentilating: assign({ isVentilating: false }),
    noteStart: assign(({ event }) => ({ compressingSinceMs: event.atMs })),
    noteCompression: assign(({ event }) => ({ lastCompressionMs: event.atMs })),
    noteTold: assign(({ event }) => ({ breathsToldMs: event.atMs })),
    forgetTold: assign({ breathsToldMs: null }),
    tellBreaths: emit(({ context, event }) => ({
      type: 'breaths handed over' as const,
      to: context.arrangement.roles.ventilator,
      atMs: event.atMs,
    })),
    noteCycle: assign(({ context, event }) =>
      event.type === 'cycle completed'
        ? { recent: [...context.recent, event.shows].slice(-HINT_CYCLES) }
        : {},
    ),
    forgetCycles: assign({ recent: [] }),
    // A bout that a handover without a gap splits off starts in the past.
    noteOne: assign(({ context, event }) => ({ lastOneMs: Math.max(context.lastOneMs ?? 0, event.atMs) })),
    forgetOne: assign({ lastOneMs: null }),
    noteWeaning: assign(({ context, event }) =>
      event.type === 'cycle completed' ? { weaning: weaningAfter(context, event) } : {},
    ),
    noteLapse: assign(({ context, event }) => ({
      lastLapseMs: event.atMs,
      weaning: withCycle(context.weaning, false, context.weaningRule),
    })),
    noteReading: assign(({ context, event }) =>
      event.type === 'count given' && isReadingOf(context.order, event)
        ? { reading: { fromMs: event.fromMs, cycleMs: event.cycleMs } }
        : {},
    ),
    forgetWeaning: assign(({ context }) => ({ weaning: { ...context.weaning, coordinated: [] } })),
    leadIn: assign(({ context, event }) => hear(countAfterLeadIn(event.atMs, context.cycleMs))),
    joinPair: assign(({ context, event }) =>
      hear(
        context.lastOneMs === null
          ? countAfterLeadIn(event.atMs, context.cycleMs)
          : countAtNextOne(context.lastOneMs, event.atMs, context.cycleMs),
      ),
    ),
    changeTempo: assign(({ context, event }) =>
      event.type !== 'call.tempo' || context.order === null
        ? {}
        : hear(atTempo(asGiven(context.order, context), event.atMs, event.line.cycleMs)),
    ),
    fallSilent: assign(({ context, event }) => {
      const { order: before } = context;
      const endMs = before === null ? null : endedWithCycle(asGiven(before, context), event.atMs).endMs;
      const order = before === null ? null : { ...before, endMs };
      return { order, weaning: { sinceMs: order?.endMs ?? event.atMs, coordinated: [] } };
    }),
    breakOff: assign(({ context, event }) => ({
      order: context.order === null ? null : brokenOff(context.order, event.atMs),
    })),
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
      heartRateShownMs: null,
      isVentilating: false,
      compressingSinceMs: null,
      lastCompressionMs: null,
      breathsToldMs: null,
      order: null,
      reading: null,
      lastOneMs: null,
      lastLapseMs: null,
      weaningRule: input.weaning ?? WEANING,
      weaning: { sinceMs: 0, coordinated: [] },
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
            'call.begin': [
              {
                guard: 'beginsVentilating',
                target: 'ventilating',
                actions: ['startVentilating', 'announce'],
              },
              { target: 'ready', actions: 'announce' },
            ],
            'call.finish': { target: 'finished', actions: 'noteCall' },
          },
        },
        // Without compressions; the count, which is theirs, waits for the first.
        ventilating: {
          on: {
            'bout started': { target: 'compressing', actions: ['endVentilating', 'noteStart'] },
            'call.rest': { target: 'resting', actions: ['noteCall', 'announce'] },
            'call.check': { target: 'checking', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        ready: {
          on: {
            'bout started': { target: 'compressing', actions: 'noteStart' },
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
            'call.resume': [
              { guard: 'isVentilating', target: 'ventilating', actions: ['noteCall', 'announce'] },
              { target: 'ready', actions: ['noteCall', 'announce'] },
            ],
            'call.check': { target: 'checking', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        checking: {
          on: {
            'call.checked': [
              {
                guard: 'isToVentilate',
                target: 'ventilating',
                actions: ['startVentilating', 'noteCall', 'announce'],
              },
              { target: 'ready', actions: ['endVentilating', 'noteCall', 'announce'] },
            ],
            'call.rest': { target: 'resting', actions: ['noteCall', 'announce'] },
            'call.finish': { target: 'finished', actions: ['noteCall', 'announce'] },
          },
        },
        finished: {},
      },
    },
    hands: {
      initial: 'up',
      states: {
        up: { on: { 'compression began': { target: 'down', actions: 'noteCompression' } } },
        down: { on: { 'compression ended': 'up' } },
      },
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
      on: {
        'cycle started': { actions: 'noteOne' },
        'bout started': { actions: ['noteOne', 'forgetWeaning'] },
        'bout ended': { actions: 'forgetOne' },
        'count given': { actions: 'noteReading' },
      },
      states: {
        silent: {
          on: {
            'call.begin': {
              guard: and(['hasNotBegun', 'isCounted', not('beginsVentilating')]),
              target: 'heard',
              actions: 'leadIn',
            },
            'call.resume': {
              guard: and(['isResting', 'isCounted', not('isVentilating')]),
              target: 'heard',
              actions: 'leadIn',
            },
            'call.checked': {
              guard: and(['isChecking', 'isCounted', not('isToVentilate')]),
              target: 'heard',
              actions: 'leadIn',
            },
            'bout started': [
              {
                guard: and(['isVentilating', 'isCounted']),
                target: 'heard',
                actions: ['noteOne', 'forgetWeaning', 'joinPair'],
              },
              { actions: ['noteOne', 'forgetWeaning'] },
            ],
            'call.guidance': {
              guard: and(['isUnderWay', 'isToCounted', 'isOtherGuidance']),
              target: 'heard',
              actions: 'joinPair',
            },
            'cycle completed': [
              { guard: and(['isUnderWay', 'hasToReturn']), target: 'heard', actions: 'joinPair' },
              { actions: 'noteWeaning' },
            ],
            'compression began': [
              { guard: and(['isUnderWay', 'isLapse', 'hasToReturn']), target: 'heard', actions: 'joinPair' },
              { guard: 'isLapse', actions: 'noteLapse' },
            ],
            // A count that is ending does not sound into a rest or a check.
            'call.rest': { guard: 'isEnding', actions: 'breakOff' },
            'call.check': { guard: 'isEnding', actions: 'breakOff' },
            'call.finish': { guard: 'isEnding', actions: 'breakOff' },
          },
        },
        heard: {
          always: { guard: 'isAtRest', target: 'silent', actions: 'breakOff' },
          on: {
            'call.guidance': { guard: 'isToSilent', target: 'silent', actions: 'fallSilent' },
            'call.tempo': { guard: 'isOtherTempo', actions: 'changeTempo' },
            'cycle completed': [
              { guard: 'canFallSilent', target: 'silent', actions: 'fallSilent' },
              { actions: 'noteWeaning' },
            ],
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
    reminder: {
      initial: 'none',
      on: { 'bout started': { target: '.none', actions: 'forgetTold' } },
      states: {
        none: {
          on: {
            'stray counted': { guard: 'isToBeTold', target: 'shown', actions: ['noteTold', 'tellBreaths'] },
          },
        },
        shown: { on: { 'clock ticked': { guard: 'isToldOver', target: 'none' } } },
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

/** A count that begins, or begins anew: its weaning too. */
function hear(order: CountOrder): Partial<ChartContext> {
  return { order, reading: null, weaning: { sinceMs: order.fromMs, coordinated: [] } };
}

/** The weaning with what an event adds to it: a complete cycle, or too long a time without one. */
function weaningAfter(context: ChartContext, event: ChartEvent): Weaning {
  const isCoordinated = event.type === 'cycle completed' && event.isCoordinated;
  return withCycle(context.weaning, isCoordinated, context.weaningRule);
}

/** A pair that goes on without a whole cycle is lost too: so long, in parts of T, counts as one (tool default). */
const LAPSE = 1.5;

function isLapse({ lastOneMs, lastLapseMs, cycleMs }: ChartContext, { atMs }: ChartEvent): boolean {
  return lastOneMs !== null && atMs - Math.max(lastOneMs, lastLapseMs ?? 0) >= LAPSE * cycleMs;
}

/** A reading of the count before can come a moment after another tempo was ordered: clocks do not differ by 1 %. */
function isReadingOf(order: CountOrder | null, { cycleMs }: { cycleMs: Ms }): boolean {
  return order !== null && Math.abs(cycleMs - order.cycleMs) < order.cycleMs / 100;
}

/** The hint a completed cycle calls for; never while unled. */
function dueHint(context: ChartContext, event: ChartEvent): Hint | null {
  if (event.type !== 'cycle completed' || context.guidance === 'unled') return null;
  const recent = [...context.recent, event.shows].slice(-HINT_CYCLES);
  return hintAfter(recent, event.atMs, context.hint?.atMs ?? null);
}
