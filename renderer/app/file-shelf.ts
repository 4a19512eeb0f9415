import type { Result } from '../../electron/contract.ts';

/** What the host does with the files of one kind. */
type Keeper<Stored, Value> = {
  list: () => Promise<Result<readonly Stored[]>>;
  save: (fileName: string | null, value: Value) => Promise<Result<{ fileName: string }>>;
  remove: (fileName: string) => Promise<Result<null>>;
};

/** The station's files of one kind, as the host keeps them. */
export class FileShelf<Stored, Value> {
  /** Files that are none of the kind among them, with what is wrong. */
  stored: readonly Stored[] = [];
  /** What the host said last when it could not do what was asked. */
  problem: string | null = null;
  /** Grows with every change. */
  version = 0;
  private readonly keeper: Keeper<Stored, Value>;
  private readonly listeners = new Set<() => void>();

  constructor(keeper: Keeper<Stored, Value>) {
    this.keeper = keeper;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  async load(): Promise<void> {
    const listed = await this.keeper.list();
    if (listed.ok) this.change(listed.value, null);
    else this.change(this.stored, listed.message);
  }

  /** Saves in place of one of the station's own, or with null as a new one; its id, or null when it was not saved. */
  async save(id: string | null, value: Value): Promise<string | null> {
    const saved = await this.keeper.save(id, value);
    if (!saved.ok) {
      this.change(this.stored, saved.message);
      return null;
    }
    await this.load();
    return saved.value.fileName;
  }

  async remove(id: string): Promise<void> {
    const removed = await this.keeper.remove(id);
    if (removed.ok) await this.load();
    else this.change(this.stored, removed.message);
  }

  private change(stored: readonly Stored[], problem: string | null): void {
    this.stored = stored;
    this.problem = problem;
    this.version += 1;
    for (const listener of this.listeners) listener();
  }
}
