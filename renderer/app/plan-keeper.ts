import type { DrillDriver } from '../../machines/drill-driver.ts';
import type { BodyLine, CallName } from '../../machines/journal.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import type { PlanCall } from '../../machines/plans/plan-calls.ts';
import { callsAhead } from '../../machines/plans/plan-context.ts';
import { PlanRun } from '../../machines/plans/plan-run.ts';
import { type PlanView, planViewOf } from '../../machines/plans/plan-view.ts';
import type { Ms } from '../../machines/units.ts';

export type PlanKeeperParts = {
  plan: Plan;
  driver: DrillDriver;
  /** Does this window make the plan's calls? One does; every other only shows where the plan stands. */
  isMadeHere: boolean;
  /** As a key would call it, at a time of the drill in ms; false when it cannot be made now. */
  call: (request: PlanCall, atMs: Ms) => boolean;
  /** Is this call on its way to the disk? */
  isOnItsWay: (call: CallName) => boolean;
};

/** Runs the drill's plan in a window: what is due is called one by one, each when the one before is in the journal. */
export class PlanKeeper {
  private readonly parts: PlanKeeperParts;
  private readonly run: PlanRun;

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
    if (this.parts.isMadeHere) {
      this.run.next(nowMs);
      this.callDue(nowMs);
      return;
    }
    // The window that makes the calls sees this one, and makes the others.
    const [first] = callsAhead(this.run.snapshot.context);
    if (first !== undefined) this.parts.call(first, nowMs);
  }

  /** Makes the call that is due, if the one before it has arrived. */
  callDue(nowMs: Ms): void {
    const { isMadeHere, isOnItsWay, call } = this.parts;
    while (isMadeHere) {
      const { due } = this.run;
      if (due === null || isOnItsWay(due.request.call) || call(due.request, due.atMs)) return;
      this.run.refuse(nowMs);
    }
  }

  viewAt(nowMs: Ms): PlanView {
    return planViewOf(this.run.snapshot, nowMs);
  }
}
