import { DrillDriver } from '../drill-driver.ts';
import type { CallLine, OpenLine } from '../journal.ts';
import type { Ms } from '../units.ts';
import type { Plan } from './plan.ts';
import type { DueCall } from './plan-calls.ts';
import { PlanRun } from './plan-run.ts';

/** The window's clock looks so often (renderer/screens/use-session.ts). */
const TICK_MS: Ms = 250;
/** A day: a plan that has not ended by then never does. */
const LONGEST_MS: Ms = 86_400_000;

/**
 * The calls of a plan in a drill that nobody disturbs, in order, with their times in drill ms. A leg that the instructor
 * calls is called at once when its time is up, and so is a begin of theirs so many ms after the opening. A call that the drill does not take is left out.
 */
export function unattendedCalls(plan: Plan, open: OpenLine, beginMs: Ms): DueCall[] {
  const driver = new DrillDriver(open);
  const run = new PlanRun(plan, driver.snapshot);
  const isBegunByHand = plan.begin.by === 'instructor';
  const made: DueCall[] = [];
  for (let nowMs = 0; nowMs <= LONGEST_MS; nowMs += TICK_MS) {
    run.tick(nowMs);
    const { snapshot } = run;
    const isAwaited =
      snapshot.matches('waiting') || (isBegunByHand && snapshot.matches('notBegun') && nowMs >= beginMs);
    if (isAwaited) run.take(run.nextLine(nowMs), driver.snapshot);
    for (const due of run.due) {
      const line = { kind: 'call', at: due.atMs, ...due.request } as CallLine;
      if (driver.canCall(line)) {
        made.push(due);
        driver.take([{ number: made.length + 1, line }]);
        run.take(line, driver.snapshot);
      } else run.refuse(due, nowMs);
    }
    if (run.snapshot.matches('over')) break;
  }
  return made;
}
