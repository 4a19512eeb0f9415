import type { Ms } from '../units.ts';
import type { Leg, Plan } from './plan.ts';
import type { PlanCall } from './plan-calls.ts';
import { beginMs, callsAhead, legEndMs, legOf, nextLeg } from './plan-context.ts';
import type { PlanSnapshot } from './plan-run.ts';

/** What is shown of a plan under way. */
export type PlanView = {
  plan: Plan;
  state: 'not begun' | 'running' | 'waiting' | 'held' | 'over';
  /** From 0; null before the first. */
  leg: { index: number; leg: Leg } | null;
  /** Null in the last leg. */
  next: Leg | null;
  /** To the end of the leg, or to a begin by itself; null where nothing runs down. */
  leftMs: Ms | null;
  /** What is about to be called by itself; empty while it is not warned of. */
  soon: readonly PlanCall[];
};

/** `nowMs`: drill ms. */
export function planViewOf(snapshot: PlanSnapshot, nowMs: Ms): PlanView {
  const { context } = snapshot;
  const leg = legOf(context);
  return {
    plan: context.plan,
    state: stateOf(snapshot),
    leg: leg === null ? null : { index: context.leg, leg },
    next: nextLeg(context),
    leftMs: leftMs(snapshot, nowMs),
    soon: soonOf(snapshot),
  };
}

function stateOf(snapshot: PlanSnapshot): PlanView['state'] {
  if (snapshot.matches('notBegun')) return 'not begun';
  if (snapshot.matches('waiting')) return 'waiting';
  if (snapshot.matches('held')) return 'held';
  return snapshot.matches('over') ? 'over' : 'running';
}

function leftMs(snapshot: PlanSnapshot, nowMs: Ms): Ms | null {
  const { context } = snapshot;
  if (snapshot.matches('over') || snapshot.matches('waiting')) return null;
  if (snapshot.matches('notBegun')) {
    const atMs = beginMs(context.plan.begin);
    return Number.isFinite(atMs) ? Math.max(0, atMs - nowMs) : null;
  }
  // A leg that is held has as much left as it had.
  const fromMs = snapshot.matches('held') ? context.nowMs : Math.max(context.nowMs, nowMs);
  return Math.max(0, legEndMs(context) - fromMs);
}

function soonOf(snapshot: PlanSnapshot): readonly PlanCall[] {
  const { context } = snapshot;
  if (snapshot.matches('warned')) return callsAhead(context);
  const isBeginSoon = snapshot.matches('notBegun') && context.plan.begin.by === 'itself';
  return isBeginSoon ? [{ call: 'begin' }] : [];
}
