import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { JOURNAL_SUFFIX } from '../../machines/journal.ts';
import { type LedgerEntry, ledgerEntryOf } from '../../machines/ledger/ledger-entry.ts';
import type { LeftAlone } from '../../machines/ledger/ledger-requests.ts';
import type { Result } from '../contract.ts';
import type { Disk } from '../disk.ts';
import { codeOf } from '../disk-failure.ts';
import { scanJournal } from '../journal-text.ts';
import { readWhole, removeIfThere, replaceFile } from './replace-file.ts';

/** What a file of the folder turned out to be, when its stamp was this. */
type Looked = { stamp: string; entry: LedgerEntry | null; problem: LeftAlone['why'] | null };
/** `unread`: journals that are still to be looked at. */
export type LedgerListing = {
  entries: readonly LedgerEntry[];
  unread: number;
  leftAlone: readonly LeftAlone[];
};

/**
 * `now`: ms on the host's clock. While `mayRead` says no (a drill runs), many unread journals wait: reading one holds the host up for
 * some milliseconds.
 */
type IndexParts = { now: () => number; mayRead: () => boolean };

const INDEX_NAME = 'ledger-index.json';
/** Raised whenever an entry is made otherwise, also when a figure in it is: another version's index is made anew. */
const INDEX_VERSION = 2;
/** Tool defaults: so many new files are read before the answer, more of them behind it; and how often they are saved meanwhile. */
const READ_AT_ONCE = 64;
const SAVE_EVERY = 1000;
/**
 * In a folder of more journals than this, those that are known are taken to be as they were for so long; new and missing ones are seen
 * at once (tool defaults: comparing ten thousand takes a third of a second, too long while somebody types in a search).
 */
const COMPARED_AT_ONCE = 500;
const FRESH_MS = 3000;

/**
 * What the journals of a folder say, kept in one file beside them so that they need not all be read again. Never the truth: a file
 * whose stamp has changed is read again, and an index that is torn, of another version or gone is made anew from the journals.
 */
export class LedgerIndex {
  private readonly disk: Disk;
  private readonly folder: string;
  private readonly parts: IndexParts;
  /** When every file's stamp was compared last, ms on the host's clock; null: it is to be done now. */
  private comparedMs: number | null = null;
  private known = new Map<string, Looked>();
  private readonly unread = new Set<string>();
  private isLoaded = false;
  private isDirty = false;
  private isHeld = false;
  private reading: Promise<void> | null = null;
  private checking: Promise<unknown> = Promise.resolve();

  constructor(disk: Disk, folder: string, parts: IndexParts) {
    this.disk = disk;
    this.folder = folder;
    this.parts = parts;
  }

  /** What is known of every journal of the folder but for those named, which a host is writing. */
  async list(without: ReadonlySet<string>): Promise<Result<LedgerListing>> {
    const checked = await this.check(without);
    if (!checked.ok) return checked;
    const isShort = this.unread.size <= READ_AT_ONCE;
    if (isShort || this.parts.mayRead()) this.reading ??= this.readAll(isShort);
    if (isShort) await this.reading;
    return { ok: true, value: this.listing(without) };
  }

  /** The same, once every journal has been read. */
  async listAll(without: ReadonlySet<string>): Promise<Result<LedgerListing>> {
    const listed = await this.list(without);
    if (!listed.ok) return listed;
    await this.reading;
    if (this.unread.size > 0) await this.readAll(true);
    return { ok: true, value: this.listing(without) };
  }

  private listing(without: ReadonlySet<string>): LedgerListing {
    const entries: LedgerEntry[] = [];
    const leftAlone: LeftAlone[] = [];
    for (const [fileName, { entry, problem }] of this.known) {
      if (without.has(fileName)) continue;
      if (entry !== null) entries.push(entry);
      if (problem !== null) leftAlone.push({ fileName, why: problem });
    }
    return { entries, unread: this.unread.size, leftAlone };
  }

  /** The file of a drill, as far as is known. */
  fileOf(drillId: string): string | null {
    for (const [fileName, { entry }] of this.known) if (entry?.drillId === drillId) return fileName;
    return null;
  }

  /** True if the file has changed since it was looked at: somebody writes it. */
  async hasChanged(fileName: string): Promise<boolean> {
    const known = this.known.get(fileName);
    return known !== undefined && known.stamp !== (await this.stampOf(fileName));
  }

  /** The journals of the folder by name; rejects when it cannot be looked into. No folder is no journal, unless there were some. */
  async fileNames(): Promise<string[]> {
    try {
      return (await this.disk.list(this.folder)).filter((name) => name.endsWith(JOURNAL_SUFFIX)).sort();
    } catch (error) {
      if (codeOf(error) === 'ENOENT' && this.known.size === 0) return [];
      throw error;
    }
  }

  /** Takes the file away and keeps none until `release`, while a name is removed from the journals. Rejects when it cannot be. */
  async hold(): Promise<void> {
    await this.checking;
    await this.reading;
    this.isHeld = true;
    await removeIfThere(this.disk, join(this.folder, INDEX_NAME));
    this.isDirty = true;
  }

  /** A file was changed here: the next list compares them all. */
  expire(): void {
    this.comparedMs = null;
  }

  /** Keeps a file again. */
  async release(): Promise<void> {
    this.isHeld = false;
    await this.save();
  }

  private check(without: ReadonlySet<string>): Promise<Result<null>> {
    const checked = this.checking.then(() => this.look(without));
    this.checking = checked;
    return checked;
  }

  private async look(without: ReadonlySet<string>): Promise<Result<null>> {
    if (!this.isLoaded) this.known = await this.load();
    this.isLoaded = true;
    let names: string[];
    try {
      names = (await this.fileNames()).filter((name) => !without.has(name));
    } catch (error) {
      const message = `the folder of the journals cannot be reached (${codeOf(error)}): is its disk or share there?`;
      return { ok: false, code: 'disk', message };
    }
    const there = new Set(names);
    for (const name of this.known.keys()) if (!there.has(name)) this.forget(name);
    for (const name of this.unread) if (!there.has(name)) this.unread.delete(name);
    const { comparedMs } = this;
    const isForAll = comparedMs === null || names.length <= COMPARED_AT_ONCE;
    // Those still to be read are looked at when they are: a window that asks while they are must not hold that up.
    const now = names.filter((name) => isForAll || !(this.known.has(name) || this.unread.has(name)));
    await Promise.all(now.map((name) => this.compare(name)));
    if (isForAll) this.comparedMs = this.parts.now();
    else if (this.parts.now() - comparedMs >= FRESH_MS) this.compareBehind(names);
    return { ok: true, value: null };
  }

  /** What somebody changed by hand is in the next answer. */
  private compareBehind(names: readonly string[]): void {
    this.comparedMs = this.parts.now();
    const known = names.filter((name) => this.known.has(name));
    void Promise.all(known.map((name) => this.compare(name)));
  }

  private async compare(fileName: string): Promise<void> {
    const stamp = await this.stampOf(fileName);
    const known = this.known.get(fileName);
    if (known !== undefined && known.stamp === stamp && known.problem !== 'unreadable') return;
    // What cannot be looked at now is known as before, and looked at again the next time.
    if (stamp === null) return;
    // Neither shown nor kept until it is read again: it may have been changed so that a name goes.
    this.forget(fileName);
    this.unread.add(fileName);
  }

  private async stampOf(fileName: string): Promise<string | null> {
    try {
      const facts = await this.disk.factsOf(join(this.folder, fileName));
      return facts.kind === 'file' ? facts.stamp : null;
    } catch {
      return null;
    }
  }

  /** Newest first, by their names. */
  private async readAll(isUrgent: boolean): Promise<void> {
    let count = 0;
    for (const fileName of [...this.unread].sort().reverse()) {
      if (!(isUrgent || this.parts.mayRead())) break;
      if (!this.unread.has(fileName)) continue;
      const looked = await this.scan(fileName);
      // A folder that is away says nothing of its files.
      if (looked.problem === 'unreadable' && !(await this.isThere())) break;
      this.unread.delete(fileName);
      this.known.set(fileName, looked);
      this.isDirty = true;
      count += 1;
      if (count % SAVE_EVERY === 0) await this.save();
    }
    await this.save();
    this.reading = null;
  }

  private async isThere(): Promise<boolean> {
    return await this.disk.list(this.folder).then(
      () => true,
      () => false,
    );
  }

  private async scan(fileName: string): Promise<Looked> {
    const path = join(this.folder, fileName);
    try {
      // Nothing is mended here: on a share, another computer's station may be writing it.
      const { stamp } = await this.disk.factsOf(path);
      const { read } = await scanJournal(this.disk.read(path));
      if (read.ok) return { stamp, entry: ledgerEntryOf(read.journal, fileName), problem: null };
      return { stamp, entry: null, problem: read.error.newerVersion === true ? 'newer' : 'damaged' };
    } catch {
      return { stamp: '', entry: null, problem: 'unreadable' };
    }
  }

  private forget(fileName: string): void {
    this.known.delete(fileName);
    this.isDirty = true;
  }

  private async load(): Promise<Map<string, Looked>> {
    try {
      return parseIndex((await readWhole(this.disk, join(this.folder, INDEX_NAME))).toString('utf8'));
    } catch {
      return new Map();
    }
  }

  /** A folder that cannot be written keeps no index: it is then made anew every time. */
  private async save(): Promise<void> {
    if (!this.isDirty || this.isHeld) return;
    try {
      await replaceFile(
        this.disk,
        join(this.folder, INDEX_NAME),
        Buffer.from(formatIndex(this.known), 'utf8'),
      );
      this.isDirty = false;
    } catch {
      // Tried again after the next reading.
    }
  }
}

/** Two lines: what it is with the sum of the second, and the table itself. */
function formatIndex(known: ReadonlyMap<string, Looked>): string {
  const table = JSON.stringify([...known]);
  return `${JSON.stringify({ kind: 'antiphon-ledger-index', version: INDEX_VERSION, sum: sumOf(table) })}\n${table}\n`;
}

/** Throws on anything but a whole index of this version. */
function parseIndex(text: string): Map<string, Looked> {
  const [head = '', table = ''] = text.split('\n');
  const stated: unknown = JSON.parse(head);
  const isOurs =
    typeof stated === 'object' &&
    stated !== null &&
    'version' in stated &&
    stated.version === INDEX_VERSION &&
    'sum' in stated &&
    stated.sum === sumOf(table);
  if (!isOurs) throw new Error('not an index of this version');
  return new Map(JSON.parse(table) as [string, Looked][]);
}

function sumOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
