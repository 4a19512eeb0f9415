import { initialTransition, type SnapshotFrom, transition } from 'xstate';
import type { ChartSnapshot } from '../drill-driver.ts';
import type { BodyLine, DeviceLine } from '../journal.ts';
import type { Ms } from '../units.ts';
import type { Plan } from './plan.ts';
import type { DueCall } from './plan-calls.ts';
import type { PlanEvent } from './plan-context.ts';
import { planCallOf, planDrillOf } from './plan-drill.ts';
import { planRunner } from './plan-runner.ts';

export type PlanSnapshot = SnapshotFrom<typeof planRunner>;

/** A plan beside its drill: it hears every line and the clock, and says what is due. */
export class PlanRun {
  readonly plan: Plan;
  private chart: PlanSnapshot;

  constructor(plan: Plan, drill: ChartSnapshot) {
    this.plan = plan;
    this.chart = initialTransition(planRunner, { plan, drill: planDrillOf(drill) })[0];
  }

  /** After the drill has taken a line. Lines of no time change nothing that a plan asks after. */
  take(line: BodyLine, drill: ChartSnapshot): void {
    if (line.kind === 'unknown') return;
    // What time alone has brought came before the line.
    this.tick(line.at);
    this.send({ type: 'drill changed', atMs: line.at, drill: planDrillOf(drill), call: planCallOf(line) });
    if (line.kind === 'device') this.takeLegLine(line);
  }

  tick(atMs: Ms): void {
    this.send({ type: 'clock ticked', atMs });
  }

  /** The line that asks for the next leg; it is on when the line is taken. */
  nextLine(at: Ms): DeviceLine {
    return { kind: 'device', at, what: 'plan-next', leg: this.chart.context.leg + 1 };
  }

  refuse({ request }: DueCall, atMs: Ms): void {
    this.send({ type: 'call refused', atMs, call: request });
  }

  get snapshot(): PlanSnapshot {
    return this.chart;
  }

  /** The calls to make now, in order; each stays until it is in the journal, or refused. */
  get due(): readonly DueCall[] {
    return this.chart.context.due;
  }

  private takeLegLine({ at: atMs, what, leg }: DeviceLine): void {
    if (leg === undefined) return;
    // Asked for in two windows, or begun by itself meanwhile: a leg comes once.
    if (what === 'plan-next' && leg === this.chart.context.leg + 1) this.send({ type: 'leg.next', atMs });
    if (what === 'plan-leg') this.send({ type: 'leg.told', atMs, leg });
  }

  private send(event: PlanEvent): void {
    this.chart = transition(planRunner, this.chart, event)[0];
  }
}
