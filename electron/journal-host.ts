import { join } from 'node:path';
import {
  formatLine,
  JOURNAL_SUFFIX,
  JOURNAL_VERSION,
  MAX_LINE_BYTES,
  type OpenLine,
} from '../machines/journal.ts';
import { openProblem } from '../machines/journal-reader.ts';
import { newestFirst } from '../machines/ledger/filter.ts';
import { runningEntryOf } from '../machines/ledger/ledger-entry.ts';
import type {
  Acknowledgement,
  Attendance,
  Batch,
  CurrentDrill,
  DrillEntry,
  DrillSetup,
  DrillText,
  DrillWindows,
  Failure,
  HostTime,
  LinesWritten,
  OpenedDrill,
  RemarkedDrill,
  Result,
} from './contract.ts';
import type { Disk } from './disk.ts';
import { diskFailure, readProblem } from './disk-failure.ts';
import { HOST_CLOCK, type HostClock } from './host-clock.ts';
import { JournalFile } from './journal-file.ts';
import { JournalFolder, noSuchDrill, shortEntry, textOf } from './journal-folder.ts';
import { scanJournal } from './journal-text.ts';
import { LedgerIndex, type LedgerListing } from './ledger/ledger-index.ts';
import { LiveDrill } from './live-drill.ts';

/** `now` is the wall clock: read once a drill, for its open line and its file's name, and once a signature. `clock` is this computer's own if left out. */
export type HostParts = {
  disk: Disk;
  folder: string;
  newId: () => string;
  now: () => Date;
  clock?: HostClock;
};

/** So many closed drills still answer a window that repeats its close line, since it never heard the answer (tool default). */
const CLOSED_KEPT = 3;

/** The only one that writes journals. One host a folder: whoever makes it sees to that. */
export class JournalHost {
  readonly index: LedgerIndex;
  private readonly parts: HostParts;
  private readonly folder: JournalFolder;
  private readonly live = new Map<string, LiveDrill>();
  /** Names of the files this host is writing: never looked at as if their host were dead. A closed one is as any other. */
  private readonly ownFiles = new Set<string>();
  private readonly listeners = new Set<(written: LinesWritten) => void>();
  private readonly windowListeners = new Set<(windows: DrillWindows) => void>();
  private readonly clock: HostClock;
  private changing: Promise<unknown> = Promise.resolve();
  /** Windows that are gone: a word they had sent before may come after. */
  private readonly gone = new Set<string>();

  constructor(parts: HostParts) {
    this.parts = parts;
    this.clock = parts.clock ?? HOST_CLOCK;
    this.index = new LedgerIndex(parts.disk, parts.folder, {
      now: () => this.clock.now(),
      mayRead: () => this.lastOpened === null,
    });
    this.folder = new JournalFolder(parts.disk, parts.folder, this.index);
  }

  /** Hears of lines once they are on the disk, in the file's order; returns its unsubscribe function. */
  onLinesWritten(listener: (written: LinesWritten) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Hears when a window comes to a drill, goes or changes; returns its unsubscribe function. */
  onWindowsChanged(listener: (windows: DrillWindows) => void): () => void {
    this.windowListeners.add(listener);
    return () => this.windowListeners.delete(listener);
  }

  async openDrill(setup: DrillSetup): Promise<Result<OpenedDrill>> {
    const { disk, folder, newId, now } = this.parts;
    const openedAt = now().toISOString();
    const open: OpenLine = { kind: 'open', version: JOURNAL_VERSION, id: newId(), openedAt, ...setup };
    const text = formatLine(open);
    const problem = problemOf(open, text);
    if (problem !== null) return problem;
    const fileName = await this.freeNameFor(open);
    this.ownFiles.add(fileName);
    try {
      await disk.makeFolder(folder);
    } catch (error) {
      this.ownFiles.delete(fileName);
      return diskFailure(error);
    }
    const made = await JournalFile.create(disk, join(folder, fileName), text);
    if (!made.ok) {
      this.ownFiles.delete(fileName);
      return made;
    }
    this.letGoOfOldest();
    const { clock } = this;
    const tell = (written: LinesWritten) => {
      if (written.lines.some(({ line }) => line.kind === 'close')) this.ownFiles.delete(fileName);
      this.tell(written);
    };
    this.live.set(open.id, new LiveDrill({ open, fileName, file: made.file, tell, clock }));
    return { ok: true, value: { drillId: open.id, fileName, open } };
  }

  /** Answers when the batch's lines are on the disk. Only a drill that this host opened can be added to. */
  append(batch: Batch): Promise<Result<Acknowledgement>> {
    return this.live.get(batch.drillId)?.append(batch) ?? Promise.resolve(noSuchDrill());
  }

  /** Takes what a window says of itself, and tells the others. */
  async attend(attendance: Attendance): Promise<Result<DrillWindows>> {
    const drill = this.live.get(attendance.drillId);
    if (drill === undefined) return noSuchDrill();
    if (this.gone.has(attendance.windowId))
      return { ok: false, code: 'not-allowed', message: 'this window is gone' };
    drill.attend(attendance);
    this.tellWindows(drill);
    return { ok: true, value: drill.windows };
  }

  /** A window listens, perhaps again. */
  meetWindow(windowId: string): void {
    this.gone.delete(windowId);
  }

  /** A window is gone, unless it is met again: nobody waits for it any more. */
  leaveWindow(windowId: string): void {
    this.gone.add(windowId);
    for (const drill of this.live.values()) if (drill.dismiss(windowId)) this.tellWindows(drill);
  }

  /** The drill opened last, if it is not closed, with what is on the disk of it. */
  async current(): Promise<Result<CurrentDrill | null>> {
    const drill = this.lastOpened;
    if (drill === null) return { ok: true, value: null };
    const text = await this.read(drill.open.id);
    return text.ok ? { ok: true, value: { ...text.value, zero: drill.windows.zero } } : text;
  }

  /** The windows of the drill that runs, for who has just come; null while none does. */
  get currentWindows(): DrillWindows | null {
    return this.lastOpened?.windows ?? null;
  }

  time(): HostTime {
    return { hostMs: this.clock.now() };
  }

  /** What is on the disk of a drill, and no more. */
  async read(drillId: string): Promise<Result<DrillText>> {
    const drill = this.live.get(drillId);
    if (drill === undefined || drill.isClosed) return await this.folder.read(drillId, this.openFiles());
    const path = join(this.parts.folder, drill.fileName);
    try {
      const { read } = await scanJournal(this.parts.disk.read(path, drill.length));
      if (read.ok) return { ok: true, value: textOf(read.journal, drill.fileName) };
      return {
        ok: false,
        code: 'disk',
        message: `the journal on the disk has changed: ${read.error.problem}`,
      };
    } catch (error) {
      return { ok: false, code: 'disk', message: `the journal cannot be read back: ${readProblem(error)}` };
    }
  }

  /** Adds the instructor's remarks to a drill that does not run any more, of this host or an earlier one; windows hear of them. */
  async remark(remarked: RemarkedDrill): Promise<Result<DrillText>> {
    const { drillId } = remarked;
    if (this.live.get(drillId)?.isClosed === false)
      return { ok: false, code: 'not-allowed', message: 'this drill is not over yet' };
    const signedAt = this.parts.now().toISOString();
    const written = await this.changeClosed(() => this.folder.remark(remarked, signedAt, this.openFiles()));
    if (!written.ok) return written;
    this.tell({ drillId, lines: written.value.added });
    return { ok: true, value: written.value.text };
  }

  /** Every journal of the folder that can be read, newest first; of a folder with many that were never read, those known so far. */
  async list(): Promise<Result<readonly DrillEntry[]>> {
    const listed = await this.ledger();
    return listed.ok ? { ok: true, value: listed.value.entries.map(shortEntry) } : listed;
  }

  /** The same with all that the Ledger keeps of a drill, and what was left alone. */
  async ledger(wanted: 'known' | 'all' = 'known'): Promise<Result<LedgerListing>> {
    const without = this.openFiles();
    const listed = await (wanted === 'all' ? this.index.listAll(without) : this.index.list(without));
    if (!listed.ok) return listed;
    const running = [...this.live.values()].filter(({ fileName }) => without.has(fileName));
    const entries = running.map(({ open, fileName }) => runningEntryOf(open, fileName));
    return {
      ok: true,
      value: { ...listed.value, entries: [...entries, ...listed.value.entries].sort(newestFirst) },
    };
  }

  /** The files that this host is writing: nobody else may read or change them. */
  openFiles(): ReadonlySet<string> {
    const closed = [...this.live.values()].filter(({ isClosed }) => isClosed).map(({ fileName }) => fileName);
    return new Set([...this.ownFiles].filter((fileName) => !closed.includes(fileName)));
  }

  /** The people of the drills that are not closed. */
  runningNames(): string[] {
    const running = [...this.live.values()].filter(({ isClosed }) => !isClosed);
    return running.flatMap(({ open }) => [open.people.A, open.people.B]);
  }

  /** Whoever changes a journal that is closed does it here, one after the other: a rewrite would else lose what is added meanwhile. */
  changeClosed<T>(work: () => Promise<T>): Promise<T> {
    const done = this.changing.then(work);
    this.changing = done.catch(() => undefined);
    return done;
  }

  /** Lets go of a closed drill whose file is to be changed or taken away: from then on it is read like any other. */
  letGo(fileName: string): void {
    for (const [drillId, drill] of this.live) {
      if (drill.fileName !== fileName || !drill.isClosed) continue;
      this.live.delete(drillId);
      this.ownFiles.delete(fileName);
    }
  }

  /** A day's drills would else stay, with the answer to every batch, as long as the station is open. They are on the disk. */
  private letGoOfOldest(): void {
    const closed = [...this.live].filter(([, { isClosed }]) => isClosed);
    for (const [drillId] of closed.slice(0, -CLOSED_KEPT)) this.live.delete(drillId);
  }

  /** Waits until all that was taken in is on the disk. Drills that are not closed stay unclosed. */
  async leave(): Promise<void> {
    await Promise.all([...this.live.values()].map((drill) => drill.leave()));
    await this.folder.settle();
    this.live.clear();
  }

  /** With the whole id where a clock that was set back has brought the same second and the same start of an id again. */
  private async freeNameFor(open: OpenLine): Promise<string> {
    const short = fileNameOf(open, open.id.slice(0, 8));
    const isTaken = await this.parts.disk.factsOf(join(this.parts.folder, short)).then(
      () => true,
      () => false,
    );
    return isTaken ? fileNameOf(open, open.id) : short;
  }

  private get lastOpened(): LiveDrill | null {
    const drill = [...this.live.values()].at(-1);
    return drill === undefined || drill.isClosed ? null : drill;
  }

  private tellWindows({ windows, isClosed }: LiveDrill): void {
    if (isClosed) return;
    for (const listener of this.windowListeners) listener(windows);
  }

  private tell(written: LinesWritten): void {
    for (const listener of this.listeners) listener(written);
  }
}

/** `2026-03-02T09-30-00Z-0b5c9a1e.antiphon.jsonl`: when, and the start of the id; no one's name. */
function fileNameOf({ openedAt }: Pick<OpenLine, 'openedAt'>, id: string): string {
  const when = openedAt.slice(0, 19).replaceAll(':', '-');
  return `${when}Z-${id}${JOURNAL_SUFFIX}`;
}

function problemOf(open: OpenLine, text: string): Failure | null {
  const problem = openProblem(open);
  if (problem !== null) return badSetup(`${problem.field ?? 'set-up'} ${problem.problem}`);
  if (Buffer.byteLength(text) > MAX_LINE_BYTES)
    return badSetup(`the set-up is longer than ${MAX_LINE_BYTES} bytes`);
  return null;
}

function badSetup(message: string): Failure {
  return { ok: false, code: 'bad-argument', message };
}
