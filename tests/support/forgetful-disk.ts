import { basename, dirname } from 'node:path';
import type { Disk, DiskFile } from '../../electron/disk.ts';

/** What happened to a file since it was last flushed. */
type Change = { kind: 'write'; position: number; bytes: Uint8Array } | { kind: 'truncate'; length: number };
type Kept = {
  /** What the disk has for certain. */
  flushed: Uint8Array;
  /** What only the system's memory has. */
  changes: Change[];
};
/** What happened to the folder's names since they were last flushed: a file's new name, or none any more. */
type Naming = { path: string; kept: Kept | null };
/** Random whole numbers from 0 to below a limit. */
export type Choose = (below: number) => number;

/** Stands for a call that the power cut took: it never returns. */
const NEVER = new Promise<never>(() => undefined);

/**
 * A disk that keeps only what was flushed. `crashAfter` counts calls: from then on nothing returns.
 * `afterCrash` gives the disk as the next start finds it: of what was not flushed, a part chosen at random,
 * perhaps with NULs after it, as file systems leave them that write a length before its bytes.
 */
export class ForgetfulDisk implements Disk {
  private readonly files = new Map<string, Kept>();
  /** The names that the disk has for certain, and what the system's memory has done to them since, a step a call. */
  private flushedNames = new Map<string, Kept>();
  private namings: Naming[][] = [];
  private callsLeft: number;
  /** True while a share is away: every call that looks at the disk is refused. */
  isAway = false;
  /** Errors to give, by the call's name, in turn; null lets a call through. */
  readonly failures = new Map<string, (string | null)[]>();
  /** The calls that were made, for tests of what is flushed when. */
  readonly calls: string[] = [];
  /** Bytes that one write takes at the most. */
  longestWrite = Number.POSITIVE_INFINITY;

  constructor(crashAfter = Number.POSITIVE_INFINITY) {
    this.callsLeft = crashAfter;
  }

  async makeFolder(): Promise<void> {}

  async syncFolder(): Promise<void> {
    await this.call('syncFolder');
    this.flushedNames = new Map(this.files);
    this.namings = [];
  }

  async list(folder: string): Promise<readonly string[]> {
    this.reach();
    const paths = [...this.files.keys()].filter((path) => dirname(path) === folder);
    return paths.map((path) => basename(path));
  }

  async create(path: string): Promise<DiskFile> {
    await this.call('create');
    if (this.files.has(path)) throw systemError('EEXIST');
    const kept: Kept = { flushed: new Uint8Array(), changes: [] };
    this.name([{ path, kept }]);
    return this.fileOf(kept);
  }

  async mend(path: string): Promise<DiskFile> {
    await this.call('mend');
    return this.fileOf(this.find(path));
  }

  async remove(path: string): Promise<void> {
    this.find(path);
    await this.call('remove', () => this.name([{ path, kept: null }]));
  }

  async rename(from: string, to: string): Promise<void> {
    const kept = this.find(from);
    await this.call('rename', () =>
      this.name([
        { path: to, kept },
        { path: from, kept: null },
      ]),
    );
  }

  async factsOf(path: string): Promise<{ kind: 'file'; bytes: number; stamp: string }> {
    const bytes = this.bytesOf(path);
    return { kind: 'file', bytes: bytes.length, stamp: Buffer.from(bytes).toString('latin1') };
  }

  async *read(path: string, end?: number): AsyncIterable<Uint8Array> {
    yield this.bytesOf(path).slice(0, end);
  }

  /** A file's bytes as a reader sees them now. */
  bytesOf(path: string): Uint8Array {
    const { flushed, changes } = this.find(path);
    return changes.reduce(changed, flushed);
  }

  /** A file that has been there for long. */
  put(path: string, text: string): void {
    const kept: Kept = { flushed: Buffer.from(text, 'utf8'), changes: [] };
    this.files.set(path, kept);
    this.flushedNames.set(path, kept);
  }

  paths(): string[] {
    return [...this.files.keys()];
  }

  afterCrash(choose: Choose): ForgetfulDisk {
    const next = new ForgetfulDisk();
    const names = new Map(this.flushedNames);
    // A file system keeps the order of its names' changes.
    for (const step of this.namings.slice(0, choose(this.namings.length + 1))) nameIn(names, step);
    for (const [path, { flushed, changes }] of names) {
      const whole = choose(changes.length + 1);
      let bytes = changes.slice(0, whole).reduce(changed, flushed);
      const torn = changes[whole];
      if (torn?.kind === 'write') {
        const part = torn.bytes.slice(0, choose(torn.bytes.length + 1));
        const nuls = choose(2) === 0 ? 0 : choose(torn.bytes.length - part.length + 1);
        bytes = changed(bytes, { ...torn, bytes: Buffer.concat([part, new Uint8Array(nuls)]) });
      }
      next.files.set(path, { flushed: bytes, changes: [] });
    }
    next.flushedNames = new Map(next.files);
    return next;
  }

  private fileOf(kept: Kept): DiskFile {
    return {
      write: async (bytes, position) => {
        const taken = bytes.slice(0, this.longestWrite);
        await this.call('write', () => kept.changes.push({ kind: 'write', position, bytes: taken }));
        return taken.length;
      },
      sync: async () => {
        await this.call('sync');
        settle(kept);
      },
      syncAll: async () => {
        await this.call('syncAll');
        settle(kept);
      },
      truncate: async (length) => {
        await this.call('truncate');
        kept.changes.push({ kind: 'truncate', length });
      },
      close: () => this.call('close'),
    };
  }

  /** `begun` happens even if the power goes during the call. */
  private async call(name: string, begun: () => void = () => undefined): Promise<void> {
    this.callsLeft -= 1;
    if (this.callsLeft < 0) {
      if (this.callsLeft === -1) begun();
      return await NEVER;
    }
    this.calls.push(name);
    this.reach();
    const failure = this.failures.get(name)?.shift() ?? null;
    if (failure !== null) throw systemError(failure);
    begun();
    // Others get their turn while a disk works.
    await new Promise((resolve) => setImmediate(resolve));
  }

  private name(step: Naming[]): void {
    nameIn(this.files, step);
    this.namings.push(step);
  }

  private reach(): void {
    if (this.isAway) throw systemError('EHOSTDOWN');
  }

  private find(path: string): Kept {
    this.reach();
    const file = this.files.get(path);
    if (file === undefined) throw systemError('ENOENT');
    return file;
  }
}

function nameIn(names: Map<string, Kept>, step: readonly Naming[]): void {
  for (const { path, kept } of step) {
    if (kept === null) names.delete(path);
    else names.set(path, kept);
  }
}

function settle(kept: Kept): void {
  kept.flushed = kept.changes.reduce(changed, kept.flushed);
  kept.changes = [];
}

function changed(bytes: Uint8Array, change: Change): Uint8Array {
  const length =
    change.kind === 'truncate'
      ? change.length
      : Math.max(bytes.length, change.position + change.bytes.length);
  const next = new Uint8Array(length);
  next.set(bytes.subarray(0, length));
  if (change.kind === 'write') next.set(change.bytes, change.position);
  return next;
}

function systemError(code: string): Error {
  return Object.assign(new Error(code), { code });
}
