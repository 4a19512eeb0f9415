import type { DrillDriver } from '../../machines/drill-driver.ts';
import type { BodyLine, CallName } from '../../machines/journal.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import type { DueCall, PlanCall } from '../../machines/plans/plan-calls.ts';
import { callsAhead } from '../../machines/plans/plan-context.ts';
import { PlanRun } from '../../machines/plans/plan-run.ts';
import { type PlanView, planViewOf } from '../../machines/plans/plan-view.ts';
import type { Ms } from '../../machines/units.ts';

export type PlanKeeperParts = {
  plan: Plan;
  driver: DrillDriver;
  /** Does this window make the plan's calls? One does; every other only shows where the plan stands. */
  isMadeHere: () => boolean;
  /** As a key would call it, at a time of the drill in ms; false when it cannot be made now. */
  call: (request: PlanCall, atMs: Ms) => boolean;
  /** Is this call on its way to the disk? */
  isOnItsWay: (call: CallName) => boolean;
};

/** Runs the drill's plan in a window: what is due is called, once. */
export class PlanKeeper {
  private readonly parts: PlanKeeperParts;
  private readonly run: PlanRun;
  private readonly made = new WeakSet<DueCall>();

  constructor(parts: PlanKeeperParts) {
    this.parts = parts;
    this.run = new PlanRun(parts.plan, parts.driver.snapshot);
  }

  /** After the driver has taken a line. */
  take(line: BodyLine): void {
    this.run.take(line, this.parts.driver.snapshot);
  }

  tick(nowMs: Ms): void {
    this.run.tick(nowMs);
    this.callDue(nowMs);
  }

  /** The instructor wants what comes next now. */
  next(nowMs: Ms): void {
    if (this.parts.isMadeHere()) {
      this.run.next(nowMs);
      this.callDue(nowMs);
      return;
    }
    // The window that makes the calls sees this one, and makes the others.
    const [first] = callsAhead(this.run.snapshot.context);
    if (first !== undefined) this.parts.call(first, nowMs);
  }

  /** Makes the calls that are due and not yet under way, in order. */
  callDue(nowMs: Ms): void {
    const { isMadeHere, isOnItsWay, call } = this.parts;
    if (!isMadeHere()) return;
    for (const due of this.run.due) {
      const isUnderWay = isOnItsWay(due.request.call);
      if (isUnderWay && this.made.has(due)) continue;
      // The instructor's own of the same name comes first.
      if (isUnderWay) return;
      if (!this.made.has(due) && call(due.request, due.atMs)) this.made.add(due);
      else this.run.refuse(due, nowMs);
    }
  }

  viewAt(nowMs: Ms): PlanView {
    return planViewOf(this.run.snapshot, nowMs);
  }
}
