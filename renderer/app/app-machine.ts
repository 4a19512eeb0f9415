import { assign, fromPromise, setup } from 'xstate';
import type {
  DrillEntry,
  DrillSetup,
  DrillText,
  OpenedDrill,
  Result,
  StationFacts,
  StationSettings,
  WindowRole,
} from '../../electron/contract.ts';

/** What Set-up needs to know before it is shown. */
export type StationStart = {
  facts: StationFacts | null;
  settings: StationSettings | null;
  entries: readonly DrillEntry[];
  problem: string | null;
};
export type OpenRequest = { setup: DrillSetup; settings: StationSettings };
export type AppContext = StationStart & {
  text: DrillText | null;
  role: WindowRole;
  /** A drill is looked at from the Ledger, and there its Debrief goes back to. */
  isLookingBack: boolean;
  /** In this window, whether or not it could be remembered. */
  hasReadCautions: boolean;
};
export type AppEvent =
  /** Another window has a drill. */
  | { type: 'drill.begun' }
  | ({ type: 'drill.start' } & OpenRequest)
  | { type: 'drill.closed'; drillId: string }
  | { type: 'drill.left'; problem: string | null }
  | { type: 'debrief.open'; drillId: string }
  | { type: 'debrief.left' }
  | { type: 'ledger.open' }
  | { type: 'ledger.left' }
  /** The first page has been read; what is remembered from now on. */
  | { type: 'cautions.read'; settings: StationSettings };

/** Which screen is shown. The drill itself has its own chart, in machines/. */
export const appMachine = setup({
  types: { context: {} as AppContext, events: {} as AppEvent, input: {} as { role: WindowRole } },
  guards: {
    isLearners: ({ context }) => context.role === 'learners',
    isLookingBack: ({ context }) => context.isLookingBack,
    areCautionsUnread: ({ context: { hasReadCautions, settings } }) =>
      !hasReadCautions && (settings === null || settings.cautionsReadAt === null),
  },
  actors: {
    joinDrill: fromPromise<Result<boolean>>(() => Promise.reject(new Error('not provided'))),
    loadStation: fromPromise<StationStart>(() => Promise.reject(new Error('not provided'))),
    openDrill: fromPromise<Result<OpenedDrill>, OpenRequest>(() => Promise.reject(new Error('not provided'))),
    readDrill: fromPromise<Result<DrillText>, { drillId: string }>(() =>
      Promise.reject(new Error('not provided')),
    ),
  },
  actions: { leaveDrill: () => undefined },
}).createMachine({
  id: 'station',
  context: ({ input }) => ({
    facts: null,
    settings: null,
    entries: [],
    problem: null,
    text: null,
    role: input.role,
    isLookingBack: false,
    hasReadCautions: false,
  }),
  initial: 'joining',
  states: {
    joining: {
      invoke: {
        src: 'joinDrill',
        onDone: [
          {
            guard: ({ event }) => event.output.ok && event.output.value,
            target: 'floor',
            actions: assign({ problem: null, isLookingBack: false }),
          },
          {
            guard: 'isLookingBack',
            target: 'ledger',
            actions: assign({ problem: ({ event }) => messageOf(event.output) }),
          },
          { target: 'loading', actions: assign({ problem: ({ event }) => messageOf(event.output) }) },
        ],
        onError: {
          target: 'loading',
          actions: assign({ problem: ({ event }) => String(event.error), isLookingBack: false }),
        },
      },
    },
    loading: {
      invoke: {
        src: 'loadStation',
        onDone: [
          { guard: 'isLearners', target: 'waiting' },
          {
            target: 'loaded',
            actions: assign(({ context, event }) => ({
              ...event.output,
              problem: context.problem ?? event.output.problem,
            })),
          },
        ],
        onError: { target: 'setUp', actions: assign({ problem: ({ event }) => String(event.error) }) },
      },
    },
    /** The learners' window while no drill runs. */
    waiting: { on: { 'drill.begun': 'joining' } },
    loaded: { always: [{ guard: 'areCautionsUnread', target: 'firstRun' }, { target: 'setUp' }] },
    /** The cautions, on a station where nobody has read them yet. */
    firstRun: {
      on: {
        'drill.begun': 'joining',
        'cautions.read': {
          target: 'setUp',
          actions: assign({ settings: ({ event }) => event.settings, hasReadCautions: true }),
        },
      },
    },
    setUp: {
      on: {
        'drill.begun': 'joining',
        'drill.start': { target: 'opening', actions: assign({ settings: ({ event }) => event.settings }) },
        'debrief.open': 'reading',
        'ledger.open': 'ledger',
      },
    },
    ledger: {
      entry: assign({ isLookingBack: true }),
      on: {
        'drill.begun': 'joining',
        'debrief.open': 'reading',
        'ledger.left': { target: 'loading', actions: assign({ problem: null, isLookingBack: false }) },
      },
    },
    opening: {
      invoke: {
        src: 'openDrill',
        input: ({ event }) => {
          if (event.type !== 'drill.start') throw new Error(`opened by ${event.type}`);
          return { setup: event.setup, settings: event.settings };
        },
        onDone: [
          { guard: ({ event }) => event.output.ok, target: 'floor', actions: assign({ problem: null }) },
          { target: 'setUp', actions: assign({ problem: ({ event }) => messageOf(event.output) }) },
        ],
        onError: { target: 'setUp', actions: assign({ problem: ({ event }) => String(event.error) }) },
      },
    },
    floor: {
      exit: 'leaveDrill',
      on: {
        'drill.closed': [{ guard: 'isLearners', target: 'joining' }, { target: 'reading' }],
        'drill.left': { target: 'loading', actions: assign({ problem: ({ event }) => event.problem }) },
      },
    },
    reading: {
      invoke: {
        src: 'readDrill',
        input: ({ event }) => {
          if (!('drillId' in event)) throw new Error(`read by ${event.type}`);
          return { drillId: event.drillId };
        },
        onDone: [
          {
            guard: ({ event }) => event.output.ok,
            target: 'debrief',
            actions: assign({
              problem: null,
              text: ({ event }) => (event.output.ok ? event.output.value : null),
            }),
          },
          {
            guard: 'isLookingBack',
            target: 'ledger',
            actions: assign({ problem: ({ event }) => messageOf(event.output) }),
          },
          { target: 'loading', actions: assign({ problem: ({ event }) => messageOf(event.output) }) },
        ],
        onError: {
          target: 'loading',
          actions: assign({ problem: ({ event }) => String(event.error), isLookingBack: false }),
        },
      },
    },
    debrief: {
      exit: assign({ text: null }),
      on: { 'debrief.left': { target: 'joining', actions: assign({ problem: null }) } },
    },
  },
});

function messageOf(result: Result<unknown>): string | null {
  return result.ok ? null : result.message;
}
