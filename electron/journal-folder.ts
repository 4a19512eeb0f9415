import { join } from 'node:path';
import type { Journal } from '../machines/journal-reader.ts';
import type { DrillEntry, DrillText, Failure, Result } from './contract.ts';
import type { Disk } from './disk.ts';
import { recoverJournal } from './journal-recovery.ts';
import { scanJournal } from './journal-text.ts';
import type { LedgerIndex } from './ledger/ledger-index.ts';

/** Reads the journals of the folder that nobody here is writing. */
export class JournalFolder {
  private readonly disk: Disk;
  private readonly folder: string;
  private readonly index: LedgerIndex;

  constructor(disk: Disk, folder: string, index: LedgerIndex) {
    this.disk = disk;
    this.folder = folder;
    this.index = index;
  }

  /** A drill's lines, mended first if its host died, but not where another computer still writes it. Its file is sought by the index, then by name, then in all that are there. */
  async read(drillId: string, without: ReadonlySet<string>): Promise<Result<DrillText>> {
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
      const read = await this.readFile(drillId, fileName);
      if (read === 'newer') isNewer = true;
      else if (read !== null) return { ok: true, value: read };
    }
    const listed = await this.index.listAll(without);
    if (!listed.ok) return listed;
    const fileName = this.index.fileOf(drillId);
    const read = fileName === null ? null : await this.readFile(drillId, fileName);
    if (read !== null && read !== 'newer') return { ok: true, value: read };
    return isNewer ? newerVersion() : noSuchDrill();
  }

  /** Null where the file is not this drill's, or cannot be read. */
  private async readFile(drillId: string, fileName: string): Promise<DrillText | 'newer' | null> {
    try {
      const path = join(this.folder, fileName);
      const isWritten = await this.index.hasChanged(fileName);
      const { read } = isWritten
        ? await scanJournal(this.disk.read(path))
        : await recoverJournal(this.disk, path);
      if (read.ok) return read.journal.open.id === drillId ? textOf(read.journal, fileName) : null;
      return read.error.newerVersion === true ? 'newer' : null;
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

export function newerVersion(): Failure {
  const message = 'this journal was made by a newer release and is left untouched';
  return { ok: false, code: 'newer-version', message };
}
