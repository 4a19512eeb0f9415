import type { CallLine } from '../journal.ts';
import type { Ms } from '../units.ts';

type WithoutTime<Call> = Call extends CallLine ? Omit<Call, 'kind' | 'at'> : never;
/** A call as the instructor makes it at a drill time in ms. */
export type ScriptedCall = { atMs: Ms } & WithoutTime<CallLine>;

/**
 * What the instructor of a rehearsal calls. `two-minutes-and-swap`: swap halfway; `techniques`: six stretches, two-thumb and two-finger by turns;
 * `check`: a heart-rate check halfway; `rest`: a rest; `steady`: nothing; `whole`: swap, technique, stance, check and rest.
 */
export const REHEARSAL_PLANS = [
  'two-minutes-and-swap',
  'techniques',
  'check',
  'rest',
  'steady',
  'whole',
] as const;
export type RehearsalPlan = (typeof REHEARSAL_PLANS)[number];

/** When begin is called: the instructor needs a moment after the drill is opened. Tool default. */
export const BEGIN_MS: Ms = 1500;
/** A check from its start: heart rate announced, hands back on. Longer ones are cut to a tenth of the drill. Tool defaults, under the 10 s of design section 5. */
const CHECK = { announcedMs: 5000, checkedMs: 7000, ofDrill: 0.1 } as const;
/** How long a rest lasts, or a tenth of the drill if that is less. Tool default. */
const REST = { ms: 20_000, ofDrill: 0.1 } as const;

/** The calls of a plan for a drill of so many ms between begin and finish, in order of time. */
export function scriptOf(plan: RehearsalPlan, lengthMs: Ms): ScriptedCall[] {
  const at = (share: number) => BEGIN_MS + Math.round(lengthMs * share);
  const calls = middleOf(plan, lengthMs, at);
  return [{ atMs: BEGIN_MS, call: 'begin' }, ...calls, { atMs: at(1), call: 'finish' }];
}

function middleOf(plan: RehearsalPlan, lengthMs: Ms, at: (share: number) => Ms): ScriptedCall[] {
  switch (plan) {
    case 'steady':
      return [];
    case 'two-minutes-and-swap':
      return [{ atMs: at(1 / 2), call: 'swap' }];
    case 'techniques':
      return [1, 2, 3, 4, 5].map((k) => ({
        atMs: at(k / 6),
        call: 'technique',
        technique: k % 2 === 1 ? 'two-finger' : 'two-thumb',
      }));
    case 'check':
      return checkAt(at(1 / 2), lengthMs);
    case 'rest':
      return restAt(at(0.45), lengthMs);
    case 'whole':
      return [
        { atMs: at(0.2), call: 'swap' },
        { atMs: at(0.36), call: 'technique', technique: 'two-finger' },
        { atMs: at(0.5), call: 'stance', stance: 'head-end' },
        ...checkAt(at(0.62), lengthMs),
        ...restAt(at(0.8), lengthMs),
      ];
  }
}

function checkAt(atMs: Ms, lengthMs: Ms): ScriptedCall[] {
  const scale = Math.min(1, (lengthMs * CHECK.ofDrill) / CHECK.checkedMs);
  return [
    { atMs, call: 'check' },
    { atMs: atMs + Math.round(CHECK.announcedMs * scale), call: 'heart-rate', bpm: 50 },
    { atMs: atMs + Math.round(CHECK.checkedMs * scale), call: 'checked' },
  ];
}

function restAt(atMs: Ms, lengthMs: Ms): ScriptedCall[] {
  return [
    { atMs, call: 'rest' },
    { atMs: atMs + Math.round(Math.min(REST.ms, lengthMs * REST.ofDrill)), call: 'resume' },
  ];
}
