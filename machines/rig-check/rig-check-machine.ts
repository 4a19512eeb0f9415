import { assign, initialTransition, type SnapshotFrom, setup, transition } from 'xstate';
import {
  type CheckedSwitch,
  type RigCheckParts,
  type RigCheckStep,
  rigCheckSteps,
} from './rig-check-steps.ts';

/** What is known of a switch. `unknown`: not seen yet, or no longer: its release was lost, or it was unplugged. */
export type SwitchState = 'down' | 'up' | 'unknown';

/** The instructor says that the hands are where the step wants them; switches go down and up meanwhile. */
export type RigCheckEvent =
  | { type: 'hands confirmed' }
  | { type: 'switch moved'; switch: CheckedSwitch; to: SwitchState }
  | { type: 'check ended' };

/** Why a step was not passed: its own switch was not as it should be, or the other one was not up; or nobody knows. */
export type RigCheckTrouble = 'still up' | 'still down' | 'other down' | 'unknown' | 'other unknown';

export type RigCheckContext = {
  steps: readonly RigCheckStep[];
  /** The step that is asked for; as many as there are steps once all are passed. */
  at: number;
  switches: Record<CheckedSwitch, SwitchState>;
  trouble: RigCheckTrouble | null;
};

/**
 * The rig check: step by step the instructor says where the hands are, and the step is passed only if the switch's real
 * state is known and the one expected: a switch that was not seen is not taken for one that is up. A step that is not passed can be tried again. Ended before the last step, the check was
 * skipped; ended at a step that was not passed, it failed. No clock: when it ended is for the caller to say.
 */
export const rigCheckMachine = setup({
  types: {
    context: {} as RigCheckContext,
    events: {} as RigCheckEvent,
    input: {} as RigCheckParts,
  },
  guards: {
    isAsExpected: ({ context }) => troubleOf(context) === null,
    isLastStep: ({ context }) => troubleOf(context) === null && context.at === context.steps.length - 1,
  },
  actions: {
    noteSwitch: assign(({ context, event }) =>
      event.type === 'switch moved'
        ? {
            switches: { ...context.switches, [event.switch]: event.to },
            trouble: isUnknown(context.trouble) ? null : context.trouble,
          }
        : {},
    ),
    goOn: assign(({ context }) => ({ at: context.at + 1, trouble: null })),
    noteTrouble: assign(({ context }) => ({ trouble: troubleOf(context) })),
  },
}).createMachine({
  id: 'rig-check',
  context: ({ input }) => ({
    steps: rigCheckSteps(input),
    at: 0,
    switches: { chest: 'unknown', airway: 'unknown' },
    trouble: null,
  }),
  initial: 'asking',
  states: {
    asking: {
      on: {
        'hands confirmed': [
          { guard: 'isLastStep', target: 'passed', actions: 'goOn' },
          { guard: 'isAsExpected', actions: 'goOn' },
          { target: 'refused', actions: 'noteTrouble' },
        ],
        'switch moved': { actions: 'noteSwitch' },
        'check ended': 'skipped',
      },
    },
    refused: {
      on: {
        'hands confirmed': [
          { guard: 'isLastStep', target: 'passed', actions: 'goOn' },
          { guard: 'isAsExpected', target: 'asking', actions: 'goOn' },
          { actions: 'noteTrouble' },
        ],
        'switch moved': { actions: 'noteSwitch' },
        'check ended': 'failed',
      },
    },
    passed: {},
    failed: {},
    skipped: {},
  },
});

export type RigCheckSnapshot = SnapshotFrom<typeof rigCheckMachine>;

export function startRigCheck(parts: RigCheckParts): RigCheckSnapshot {
  return initialTransition(rigCheckMachine, parts)[0];
}

export function nextRigCheck(snapshot: RigCheckSnapshot, event: RigCheckEvent): RigCheckSnapshot {
  return transition(rigCheckMachine, snapshot, event)[0];
}

/** The step that is asked for, or null when the check is over. */
export function currentStep({ value, context }: RigCheckSnapshot): RigCheckStep | null {
  return value === 'asking' || value === 'refused' ? (context.steps[context.at] ?? null) : null;
}

/** How the check came out, or null while it goes on. */
export function outcomeOf({ value }: RigCheckSnapshot): 'passed' | 'failed' | 'skipped' | null {
  return value === 'asking' || value === 'refused' ? null : value;
}

function troubleOf({ steps, at, switches }: RigCheckContext): RigCheckTrouble | null {
  const step = steps[at];
  if (step === undefined) return null;
  const own = switches[step.switch];
  const other = switches[step.switch === 'chest' ? 'airway' : 'chest'];
  if (own === 'unknown') return 'unknown';
  if ((own === 'down') !== step.isDown) return step.isDown ? 'still up' : 'still down';
  if (other === 'unknown') return 'other unknown';
  return other === 'down' ? 'other down' : null;
}

/** Such a trouble is over as soon as a switch is seen; what there is then, the next confirmation says. */
function isUnknown(trouble: RigCheckTrouble | null): boolean {
  return trouble === 'unknown' || trouble === 'other unknown';
}
