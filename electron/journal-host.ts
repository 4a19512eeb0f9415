import { join } from 'node:path';
import {
  formatLine,
  JOURNAL_SUFFIX,
  JOURNAL_VERSION,
  MAX_LINE_BYTES,
  type OpenLine,
} from '../machines/journal.ts';
import { openProblem } from '../machines/journal-reader.ts';
import type {
  Acknowledgement,
  Batch,
  DrillEntry,
  DrillSetup,
  DrillText,
  Failure,
  LinesWritten,
  OpenedDrill,
  Result,
} from './contract.ts';
import type { Disk } from './disk.ts';
import { diskFailure, readProblem } from './disk-failure.ts';
import { JournalFile } from './journal-file.ts';
import { entryOf, JournalFolder, noSuchDrill, textOf } from './journal-folder.ts';
import { scanJournal } from './journal-text.ts';
import { LiveDrill } from './live-drill.ts';

/** `now` is the wall clock: read once a drill, for its open line and its file's name. */
export type HostParts = { disk: Disk; folder: string; newId: () => string; now: () => Date };

/** The only one that writes journals. One host a folder: whoever makes it sees to that. */
export class JournalHost {
  private readonly parts: HostParts;
  private readonly folder: JournalFolder;
  private readonly live = new Map<string, LiveDrill>();
  /** Names of the files this host made: never looked at as if their host were dead. */
  private readonly ownFiles = new Set<string>();
  private readonly listeners = new Set<(written: LinesWritten) => void>();

  constructor(parts: HostParts) {
    this.parts = parts;
    this.folder = new JournalFolder(parts.disk, parts.folder);
  }

  /** Hears of lines once they are on the disk, in the file's order; returns its unsubscribe function. */
  onLinesWritten(listener: (written: LinesWritten) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  async openDrill(setup: DrillSetup): Promise<Result<OpenedDrill>> {
    const { disk, folder, newId, now } = this.parts;
    const openedAt = now().toISOString();
    const open: OpenLine = { kind: 'open', version: JOURNAL_VERSION, id: newId(), openedAt, ...setup };
    const text = formatLine(open);
    const problem = problemOf(open, text);
    if (problem !== null) return problem;
    const fileName = fileNameOf(open);
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
    this.live.set(open.id, new LiveDrill(open, fileName, made.file, (written) => this.tell(written)));
    return { ok: true, value: { drillId: open.id, fileName, open } };
  }

  /** Answers when the batch's lines are on the disk. Only a drill that this host opened can be added to. */
  append(batch: Batch): Promise<Result<Acknowledgement>> {
    return this.live.get(batch.drillId)?.append(batch) ?? Promise.resolve(noSuchDrill());
  }

  /** What is on the disk of a drill, and no more. */
  async read(drillId: string): Promise<Result<DrillText>> {
    const drill = this.live.get(drillId);
    if (drill === undefined) return await this.folder.read(drillId, this.ownFiles);
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

  /** Every journal of the folder that can be read, newest first. */
  async list(): Promise<Result<readonly DrillEntry[]>> {
    const entries = await this.folder.entries(this.ownFiles);
    for (const drill of this.live.values()) entries.push(entryOf(drill, drill.fileName));
    entries.sort((a, b) => (a.openedAt < b.openedAt ? 1 : a.openedAt > b.openedAt ? -1 : 0));
    return { ok: true, value: entries };
  }

  /** Waits until all that was taken in is on the disk. Drills that are not closed stay unclosed. */
  async leave(): Promise<void> {
    await Promise.all([...this.live.values()].map((drill) => drill.leave()));
    this.live.clear();
  }

  private tell(written: LinesWritten): void {
    for (const listener of this.listeners) listener(written);
  }
}

/** `2026-03-02T09-30-00Z-0b5c9a1e.antiphon.jsonl`: when, and the start of the id; no one's name. */
function fileNameOf(open: Pick<OpenLine, 'id' | 'openedAt'>): string {
  const when = open.openedAt.slice(0, 19).replaceAll(':', '-');
  return `${when}Z-${open.id.slice(0, 8)}${JOURNAL_SUFFIX}`;
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
