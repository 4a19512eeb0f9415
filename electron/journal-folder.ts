import { join } from 'node:path';
import { type BodyLine, formatLine } from '../machines/journal.ts';
import type { Journal, NumberedLine } from '../machines/journal-reader.ts';
import type { DrillEntry, DrillText, Failure, RemarkedDrill, Result } from './contract.ts';
import type { Disk } from './disk.ts';
import { diskFailure } from './disk-failure.ts';
import { JournalFile } from './journal-file.ts';
import { lastAtMs, recoverJournal } from './journal-recovery.ts';
import { type JournalScan, scanJournal } from './journal-text.ts';
import type { LedgerIndex } from './ledger/ledger-index.ts';

/** A journal of the folder that was read, mended where that was needed and possible. */
type FoundJournal = { fileName: string; path: string; journal: Journal; scan: JournalScan };

/**
 * The journals of the folder that nobody here is writing: read, and remarked on. One thing is done at a time, so that a
 * remark that is being written is not taken for a torn tail.
 */
export class JournalFolder {
  private readonly disk: Disk;
  private readonly folder: string;
  private readonly index: LedgerIndex;
  private turn: Promise<unknown> = Promise.resolve();

  constructor(disk: Disk, folder: string, index: LedgerIndex) {
    this.disk = disk;
    this.folder = folder;
    this.index = index;
  }

  /** A drill's lines, mended first if its host died, but not where another computer still writes it. */
  read(drillId: string, without: ReadonlySet<string>): Promise<Result<DrillText>> {
    return this.inTurn(async () => {
      const found = await this.find(drillId, without);
      return found.ok ? { ok: true, value: textOf(found.value.journal, found.value.fileName) } : found;
    });
  }

  /**
   * Adds remarks to a drill, at the time of its last line, and answers with its text when they are on the disk, and with the
   * new lines. `signedAt` is the wall clock now, ISO 8601 in UTC.
   */
  remark(
    { drillId, remarks }: RemarkedDrill,
    signedAt: string,
    without: ReadonlySet<string>,
  ): Promise<Result<{ text: DrillText; added: readonly NumberedLine[] }>> {
    return this.inTurn(async () => {
      const found = await this.find(drillId, without);
      if (!found.ok) return found;
      const { journal, fileName } = found.value;
      if (journal.open.rig === 'rhythm' && remarks.some(({ kind }) => kind === 'signature'))
        return { ok: false, code: 'not-allowed', message: 'no sign-off rests on a rhythm rig' };
      const at = lastAtMs(journal);
      const next = (journal.lines.at(-1)?.number ?? 1) + 1;
      const added = remarks.map((remark, index): NumberedLine => {
        const line: BodyLine = remark.kind === 'mark' ? { ...remark, at } : { ...remark, at, signedAt };
        return { number: next + index, line };
      });
      const written = await this.append(found.value, added);
      if (!written.ok) return written;
      this.index.expire();
      const text = textOf({ ...journal, lines: [...journal.lines, ...added] }, fileName);
      return { ok: true, value: { text, added } };
    });
  }

  /** Waits for what is being done. */
  async settle(): Promise<void> {
    await this.turn;
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.turn.then(work);
    this.turn = done.catch(() => undefined);
    return done;
  }

  private async append(
    { path, scan }: FoundJournal,
    lines: readonly NumberedLine[],
  ): Promise<{ ok: true } | Failure> {
    const { goodBytes, totalBytes, endsLine } = scan;
    try {
      const { bytes } = await this.disk.factsOf(path);
      if (bytes !== totalBytes || goodBytes !== totalBytes || !endsLine) return notMended();
    } catch (error) {
      return diskFailure(error);
    }
    const opened = await JournalFile.reopen(this.disk, path, totalBytes);
    if (!opened.ok) return opened;
    const written = await opened.file.append(lines.map(({ line }) => formatLine(line)));
    // All lines are on the disk, or none: a file that will not let go changes nothing for anyone.
    await opened.file.close().catch(() => undefined);
    return written;
  }

  /** A drill's file is sought by the index, then by name, then in all that are there. */
  private async find(drillId: string, without: ReadonlySet<string>): Promise<Result<FoundJournal>> {
    const known = this.index.fileOf(drillId);
    const startOfId = drillId.slice(0, 8).toLowerCase();
    let names: string[];
    try {
      names = (await this.index.fileNames()).filter((name) => name.includes(startOfId));
    } catch {
      names = [];
    }
    let isNewer = false;
    for (const fileName of known === null ? names : [known, ...names]) {
      if (without.has(fileName)) continue;
      const found = await this.readFile(drillId, fileName);
      if (found === 'newer') isNewer = true;
      else if (found !== null) return { ok: true, value: found };
    }
    const listed = await this.index.listAll(without);
    if (!listed.ok) return listed;
    const fileName = this.index.fileOf(drillId);
    const found = fileName === null ? null : await this.readFile(drillId, fileName);
    if (found !== null && found !== 'newer') return { ok: true, value: found };
    return isNewer ? newerVersion() : noSuchDrill();
  }

  /** Null where the file is not this drill's, or cannot be read. */
  private async readFile(drillId: string, fileName: string): Promise<FoundJournal | 'newer' | null> {
    try {
      const path = join(this.folder, fileName);
      const isWritten = await this.index.hasChanged(fileName);
      const scan = isWritten
        ? await scanJournal(this.disk.read(path))
        : await recoverJournal(this.disk, path);
      const { read } = scan;
      if (!read.ok) return read.error.newerVersion === true ? 'newer' : null;
      return read.journal.open.id === drillId ? { fileName, path, journal: read.journal, scan } : null;
    } catch {
      return null;
    }
  }
}

/** A journal as the bridge gives it. */
export function textOf(journal: Journal, fileName: string): DrillText {
  const { open, lines, isClosed } = journal;
  return { drillId: open.id, fileName, open, lines, isClosed };
}

/** What the list of drills says of one. */
export function shortEntry({ drillId, fileName, openedAt, names, isClosed }: DrillEntry): DrillEntry {
  return { drillId, fileName, openedAt, names, isClosed };
}

export function noSuchDrill(): Failure {
  return { ok: false, code: 'no-such-drill', message: 'there is no such drill here' };
}

/** Its torn end could not be cut off, or another program has written to it since it was read. */
function notMended(): Failure {
  const message = 'the journal on the disk cannot be added to: these lines are not saved';
  return { ok: false, code: 'disk', message };
}

export function newerVersion(): Failure {
  const message = 'this journal was made by a newer release and is left untouched';
  return { ok: false, code: 'newer-version', message };
}
