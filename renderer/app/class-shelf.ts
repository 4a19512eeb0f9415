import type { Bridge } from '../../electron/contract.ts';
import { type ClassFile, newClass } from '../../machines/class/class-file.ts';
import { type UnledSource, unledFromDrills } from './unled-today.ts';

type ClassBridge = Pick<Bridge, 'loadClass' | 'saveClass' | 'listDrills' | 'readDrill'>;

/** The day's class. What changes is shown and used at once, and saved at once; a disk that refuses it stops no class. */
export class ClassShelf {
  /** Null: not read yet, or not to be had. */
  stored: ClassFile | null = null;
  /** Why there is no class to show; null: there is one, or it is being read. */
  loadProblem: string | null = null;
  /** Why what is shown is not on the disk; null: it is, or is on its way. */
  saveProblem: string | null = null;
  /** Grows with every change. */
  version = 0;
  /** Where what is known of unled compressing comes from. */
  readonly readUnled: UnledSource;
  private readonly bridge: ClassBridge;
  private readonly listeners = new Set<() => void>();
  /** What is not on the disk yet. */
  private unsaved: ClassFile | null = null;
  private isSaving = false;

  constructor(bridge: ClassBridge) {
    this.bridge = bridge;
    this.readUnled = unledFromDrills(bridge);
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Reads the class from the disk; what could not be saved is in its place, and is tried again. */
  async load(): Promise<void> {
    if (this.unsaved !== null || this.isSaving) return this.saveLatest();
    const { version } = this;
    const loaded = await this.bridge.loadClass();
    // Changed in the meantime: what was read is older than what is here.
    if (this.version !== version) return;
    this.stored = loaded.ok ? (loaded.value ?? newClass([], 1)) : null;
    this.loadProblem = loaded.ok ? null : loaded.message;
    this.tell();
  }

  change(after: ClassFile): void {
    this.stored = after;
    this.unsaved = after;
    this.tell();
    void this.saveLatest();
  }

  /** One at a time: a carrier may bring two requests in either order. */
  private async saveLatest(): Promise<void> {
    if (this.isSaving) return;
    this.isSaving = true;
    for (let wanted = this.unsaved; wanted !== null; ) {
      const saved = await this.bridge.saveClass(wanted);
      this.saveProblem = saved.ok ? null : saved.message;
      const isLatest = this.unsaved === wanted;
      if (saved.ok && isLatest) this.unsaved = null;
      wanted = isLatest ? null : this.unsaved;
    }
    this.isSaving = false;
    this.tell();
  }

  private tell(): void {
    this.version += 1;
    for (const listener of this.listeners) listener();
  }
}
