import type { DrillDriver } from '../../machines/drill-driver.ts';
import type { BodyLine, CallName, DeviceLine } from '../../machines/journal.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import type { DueCall, PlanCall } from '../../machines/plans/plan-calls.ts';
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
  /** Writes where the plan goes on; false: it will never be on the disk. */
  write: (line: Omit<DeviceLine, 'kind' | 'at'>, atMs: Ms) => Promise<boolean>;
  /** In the window that makes the calls: these are about to be called; with none, what was warned of is not any more. */
  warn: (soon: readonly PlanCall[]) => void;
  /** Is this call on its way to the disk? */
  isOnItsWay: (call: CallName) => boolean;
};

/** Runs the drill's plan in a window: what is due is called, once. */
export class PlanKeeper {
  private readonly parts: PlanKeeperParts;
  private readonly run: PlanRun;
  private readonly made = new WeakSet<DueCall>();
  /** The leg whose end was last warned of, and is still; null: nothing is warned of. */
  private warned: number | null = null;
  /** The last leg that was asked for here, while the line that asks is on its way. */
  private asked = -1;

  constructor(parts: PlanKeeperParts) {
    this.parts = parts;
    this.run = new PlanRun(parts.plan, parts.driver.snapshot);
  }

  /** After the driver has taken a line. */
  take(line: BodyLine): void {
    this.run.take(line, this.parts.driver.snapshot);
    if (line.kind === 'device' && line.what === 'plan-next' && line.leg === this.asked) this.asked = -1;
  }

  tick(nowMs: Ms): void {
    const before = this.leg;
    this.run.tick(nowMs);
    if (this.leg > before && this.parts.isMadeHere()) {
      // Time makes no line: a window that comes later knows by this one.
      const { startedMs } = this.run.snapshot.context;
      void this.parts.write({ what: 'plan-leg', leg: this.leg }, startedMs);
    }
    this.callDue(nowMs);
    this.followWarning(nowMs);
  }

  /** Once a warning; a leg that is held is warned of again. */
  followWarning(nowMs: Ms): void {
    const { soon } = this.viewAt(nowMs);
    const warned = soon.length > 0 ? this.leg : null;
    if (warned === this.warned) return;
    this.warned = warned;
    if (warned === null) this.parts.warn([]);
    else if (this.parts.isMadeHere()) this.parts.warn(soon);
  }

  /** The instructor wants what comes next now, in whichever window: it has come when the line is on the disk. */
  next(atMs: Ms): void {
    const leg = Math.max(this.leg, this.asked) + 1;
    if (this.run.snapshot.matches('over') || leg > this.parts.plan.legs.length) return;
    this.asked = leg;
    void this.parts.write({ what: 'plan-next', leg }, atMs).then((isWritten) => {
      if (!isWritten && this.asked === leg) this.asked = -1;
    });
  }

  /** Makes the calls that are due and not yet under way, in order. */
  callDue(nowMs: Ms): void {
    const { isMadeHere, isOnItsWay, call } = this.parts;
    if (!isMadeHere()) return;
    let isEarlierAwaited = false;
    for (const due of this.run.due) {
      const isUnderWay = isOnItsWay(due.request.call);
      if (isUnderWay && this.made.has(due)) {
        isEarlierAwaited = true;
        continue;
      }
      // The instructor's own of the same name comes first.
      if (isUnderWay) return;
      if (!this.made.has(due) && call(due.request, due.atMs)) {
        this.made.add(due);
        isEarlierAwaited = true;
        continue;
      }
      // What the drill does not take yet it may take after the one before: lines and the clock try again.
      if (isEarlierAwaited) return;
      this.run.refuse(due, nowMs);
    }
  }

  private get leg(): number {
    return this.run.snapshot.context.leg;
  }

  viewAt(nowMs: Ms): PlanView {
    return planViewOf(this.run.snapshot, nowMs);
  }
}
