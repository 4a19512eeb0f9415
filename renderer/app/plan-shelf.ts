import type { Bridge, StoredPlan } from '../../electron/contract.ts';
import type { Plan } from '../../machines/plans/plan.ts';
import { READY_MADE, READY_MADE_NAMES, type ReadyMadeName } from '../../machines/plans/ready-made.ts';

/** A plan that can be chosen; `id` is a ready-made one's name, or the file name of one of the station's. */
export type ShelfPlan = { id: string; plan: Plan };

/** The plans there are: those that come with the station, and its own, which the host keeps. */
export class PlanShelf {
  /** Files that are no plan among them, with what is wrong. */
  stored: readonly StoredPlan[] = [];
  /** What the host said last when it could not do what was asked. */
  problem: string | null = null;
  /** Grows with every change. */
  version = 0;
  private readonly bridge: Pick<Bridge, 'listPlans' | 'savePlan' | 'removePlan'>;
  private readonly listeners = new Set<() => void>();

  constructor(bridge: Pick<Bridge, 'listPlans' | 'savePlan' | 'removePlan'>) {
    this.bridge = bridge;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

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

  async load(): Promise<void> {
    const listed = await this.bridge.listPlans();
    if (listed.ok) this.change(listed.value, null);
    else this.change(this.stored, listed.message);
  }

  /** Saves in place of one of the station's own, or with null as a new one; its id, or null when it was not saved. */
  async save(id: string | null, plan: Plan): Promise<string | null> {
    const saved = await this.bridge.savePlan(id, plan);
    if (!saved.ok) {
      this.change(this.stored, saved.message);
      return null;
    }
    await this.load();
    return saved.value.fileName;
  }

  async remove(id: string): Promise<void> {
    const removed = await this.bridge.removePlan(id);
    if (removed.ok) await this.load();
    else this.change(this.stored, removed.message);
  }

  private change(stored: readonly StoredPlan[], problem: string | null): void {
    this.stored = stored;
    this.problem = problem;
    this.version += 1;
    for (const listener of this.listeners) listener();
  }
}
