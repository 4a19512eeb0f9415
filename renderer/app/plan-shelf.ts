import type { Bridge, StoredPlan } from '../../electron/contract.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import { READY_MADE, READY_MADE_NAMES, type ReadyMadeName } from '../../machines/plans/ready-made.ts';
import { FileShelf } from './file-shelf.ts';

/** A plan that can be chosen; `id` is a ready-made one's name, or the file name of one of the station's. */
export type ShelfPlan = { id: string; plan: Plan };

/** The plans there are: those that come with the station, and its own, which the host keeps. */
export class PlanShelf extends FileShelf<StoredPlan, Plan> {
  constructor(bridge: Pick<Bridge, 'listPlans' | 'savePlan' | 'removePlan'>) {
    super({
      list: () => bridge.listPlans(),
      save: (fileName, plan) => bridge.savePlan(fileName, plan),
      remove: (fileName) => bridge.removePlan(fileName),
    });
  }

  get readyMade(): readonly ShelfPlan[] {
    return READY_MADE_NAMES.map((id) => ({ id, plan: READY_MADE[id] }));
  }

  get own(): readonly ShelfPlan[] {
    return this.stored.flatMap(({ fileName, plan }) => (plan === null ? [] : [{ id: fileName, plan }]));
  }

  /** The plan of that id; null when there is none, or no longer. */
  find(id: string | null): Plan | null {
    if (id === null) return null;
    if (Object.hasOwn(READY_MADE, id)) return READY_MADE[id as ReadyMadeName];
    return this.own.find((one) => one.id === id)?.plan ?? null;
  }
}
