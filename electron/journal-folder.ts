import { join } from 'node:path';
import { JOURNAL_SUFFIX } from '../machines/journal.ts';
import type { Journal } from '../machines/journal-reader.ts';
import type { DrillEntry, DrillText, Failure, Result } from './contract.ts';
import type { Disk } from './disk.ts';
import { recoverJournal } from './journal-recovery.ts';

/** What a file of the folder turned out to be; it is looked at again when its stamp changes. */
type Known = { stamp: string; entry: DrillEntry | null; isNewer: boolean };

/** The journals in the folder that nobody here is writing. None is ever deleted or renamed. */
export class JournalFolder {
  private readonly disk: Disk;
  private readonly folder: string;
  private readonly known = new Map<string, Known>();

  constructor(disk: Disk, folder: string) {
    this.disk = disk;
    this.folder = folder;
  }

  /** One entry a readable journal, but for the files named; what is no journal, or a newer one, is passed over. */
  async entries(without: ReadonlySet<string>): Promise<DrillEntry[]> {
    const entries: DrillEntry[] = [];
    for (const fileName of await this.fileNames(without)) {
      const { entry } = await this.lookAt(fileName);
      if (entry !== null) entries.push(entry);
    }
    return entries;
  }

  /** A drill's lines, mended first if its host died. */
  async read(drillId: string, without: ReadonlySet<string>): Promise<Result<DrillText>> {
    const startOfId = drillId.slice(0, 8).toLowerCase();
    const names = await this.fileNames(without);
    const likelyFirst = names.sort((a, b) => Number(b.includes(startOfId)) - Number(a.includes(startOfId)));
    let isNewer = false;
    for (const fileName of likelyFirst) {
      const known = await this.lookAt(fileName);
      if (known.isNewer && fileName.includes(startOfId)) isNewer = true;
      if (known.entry?.drillId !== drillId) continue;
      const { read } = await recoverJournal(this.disk, join(this.folder, fileName));
      return read.ok ? { ok: true, value: textOf(read.journal, fileName) } : noSuchDrill();
    }
    return isNewer ? newerVersion() : noSuchDrill();
  }

  private async fileNames(without: ReadonlySet<string>): Promise<string[]> {
    let names: readonly string[];
    try {
      names = await this.disk.list(this.folder);
    } catch {
      return [];
    }
    return names.filter((name) => name.endsWith(JOURNAL_SUFFIX) && !without.has(name)).sort();
  }

  private async lookAt(fileName: string): Promise<Known> {
    const path = join(this.folder, fileName);
    try {
      const facts = await this.disk.factsOf(path);
      const known = this.known.get(fileName);
      if (known !== undefined && known.stamp === facts.stamp) return known;
      const fresh = facts.kind === 'file' ? await this.scan(path, fileName) : nothing(facts.stamp);
      this.known.set(fileName, fresh);
      return fresh;
    } catch {
      return nothing('unreadable');
    }
  }

  private async scan(path: string, fileName: string): Promise<Known> {
    const { read } = await recoverJournal(this.disk, path);
    const { stamp } = await this.disk.factsOf(path);
    if (!read.ok) return { stamp, entry: null, isNewer: read.error.newerVersion === true };
    return { stamp, entry: entryOf(read.journal, fileName), isNewer: false };
  }
}

/** A journal as the bridge gives it. */
export function textOf(journal: Journal, fileName: string): DrillText {
  const { open, lines, isClosed } = journal;
  return { drillId: open.id, fileName, open, lines, isClosed };
}

/** A journal's entry in the list of drills. */
export function entryOf(journal: Pick<Journal, 'open' | 'isClosed'>, fileName: string): DrillEntry {
  const { id, openedAt, people } = journal.open;
  return { drillId: id, fileName, openedAt, names: { A: people.A, B: people.B }, isClosed: journal.isClosed };
}

export function noSuchDrill(): Failure {
  return { ok: false, code: 'no-such-drill', message: 'there is no such drill here' };
}

function newerVersion(): Failure {
  const message = 'this journal was made by a newer release and is left untouched';
  return { ok: false, code: 'newer-version', message };
}

function nothing(stamp: string): Known {
  return { stamp, entry: null, isNewer: false };
}
