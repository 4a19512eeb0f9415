import { DrillDriver } from '../../machines/drill-driver.ts';
import { type BodyLine, checkLine, type OpenLine } from '../../machines/journal.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import type { DueCall, PlanCall } from '../../machines/plans/plan-calls.ts';
import { PlanRun } from '../../machines/plans/plan-run.ts';
import { openLine } from './journal-builder.ts';

/** A plan beside a real drill: time is moved by hand, what is due is called at once, and the instructor may call too. */
export class PlanBench {
  readonly driver: DrillDriver;
  readonly run: PlanRun;
  /** Every call in the drill, as "12000 swap", the plan's and the instructor's. */
  readonly calls: string[] = [];
  readonly refused: string[] = [];
  readonly lines: BodyLine[] = [];
  private lastMs = 0;

  constructor(plan: Plan, over: Partial<OpenLine> = {}) {
    this.driver = new DrillDriver(openLine(over));
    this.run = new PlanRun(plan, this.driver.snapshot);
  }

  tick(atMs: number): this {
    this.run.tick(atMs);
    return this.callDue(atMs);
  }

  /** Ticks as a window's clock does. */
  ticks(fromMs: number, toMs: number, stepMs = 250): this {
    for (let atMs = fromMs; atMs <= toMs; atMs += stepMs) this.tick(atMs);
    return this;
  }

  next(atMs: number): this {
    return this.take(this.run.nextLine(Math.max(this.lastMs, atMs))).callDue(atMs);
  }

  /** A call of the instructor's own; false when the drill does not take it. */
  byHand(atMs: number, request: PlanCall): boolean {
    const isTaken = this.call({ atMs, request });
    this.callDue(atMs);
    return isTaken;
  }

  press(name: 'chest' | 'airway', onMs: number): this {
    this.take({ kind: 'edge', at: onMs, switch: name, down: true });
    return this.take({ kind: 'edge', at: onMs + 150, switch: name, down: false }).callDue(onMs + 150);
  }

  private callDue(nowMs: number): this {
    // Its own calls bring nothing new that is due at once: what is due now is all.
    for (const due of this.run.due) {
      if (this.call(due)) continue;
      this.refused.push(due.request.call);
      this.run.refuse(due, nowMs);
    }
    return this;
  }

  private call({ atMs, request }: DueCall): boolean {
    const at = Math.max(this.lastMs, atMs);
    const parsed = checkLine({ kind: 'call', at, ...request });
    if (!parsed.ok || parsed.line.kind !== 'call') throw new Error(`no call: ${JSON.stringify(request)}`);
    if (!this.driver.canCall(parsed.line)) return false;
    this.calls.push(`${at} ${wordsOf(request)}`);
    this.take(parsed.line);
    return true;
  }

  private take(line: BodyLine): this {
    if (line.kind !== 'unknown') this.lastMs = line.at;
    this.lines.push(line);
    this.driver.take([{ number: this.lines.length + 1, line }]);
    this.run.take(line, this.driver.snapshot);
    return this;
  }
}

/** "technique two-finger", "swap". */
export function wordsOf(request: PlanCall): string {
  const { call, ...rest } = request;
  return [call, ...Object.values(rest)].join(' ');
}
