import { join } from 'node:path';
import { type BodyLine, formatLine, JOURNAL_SUFFIX } from '../machines/journal.ts';
import type { Journal, NumberedLine } from '../machines/journal-reader.ts';
import type { DrillEntry, DrillText, Failure, RemarkedDrill, Result } from './contract.ts';
import type { Disk } from './disk.ts';
import { diskFailure } from './disk-failure.ts';
import { JournalFile } from './journal-file.ts';
import { lastAtMs, recoverJournal } from './journal-recovery.ts';
import type { JournalScan } from './journal-text.ts';

/** What a file of the folder turned out to be; it is looked at again when its stamp changes. */
type Known = { stamp: string; entry: DrillEntry | null; isNewer: boolean };

/** A journal of the folder that was read, mended where that was needed and possible. */
type FoundJournal = { fileName: string; path: string; journal: Journal; scan: JournalScan };

/**
 * The journals in the folder whose drills do not run. None is ever deleted or renamed. One thing is done at a time, so that
 * a remark that is being written is not taken for a torn tail.
 */
export class JournalFolder {
  private readonly disk: Disk;
  private readonly folder: string;
  private readonly known = new Map<string, Known>();
  private turn: Promise<unknown> = Promise.resolve();

  constructor(disk: Disk, folder: string) {
    this.disk = disk;
    this.folder = folder;
  }

  /** One entry a readable journal, but for the files named; what is no journal, or a newer one, is passed over. */
  entries(without: ReadonlySet<string>): Promise<DrillEntry[]> {
    return this.inTurn(async () => {
      const entries: DrillEntry[] = [];
      for (const fileName of await this.fileNames(without)) {
        const { entry } = await this.lookAt(fileName);
        if (entry !== null) entries.push(entry);
      }
      return entries;
    });
  }

  /** A drill's lines, mended first if its host died. */
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

  private async find(drillId: string, without: ReadonlySet<string>): Promise<Result<FoundJournal>> {
    const startOfId = drillId.slice(0, 8).toLowerCase();
    const names = await this.fileNames(without);
    const likelyFirst = names.sort((a, b) => Number(b.includes(startOfId)) - Number(a.includes(startOfId)));
    let isNewer = false;
    for (const fileName of likelyFirst) {
      const known = await this.lookAt(fileName);
      if (known.isNewer && fileName.includes(startOfId)) isNewer = true;
      if (known.entry?.drillId !== drillId) continue;
      const path = join(this.folder, fileName);
      const scan = await recoverJournal(this.disk, path);
      const { read } = scan;
      return read.ok ? { ok: true, value: { fileName, path, journal: read.journal, scan } } : noSuchDrill();
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

/** Its torn end could not be cut off, or another program has written to it since it was read. */
function notMended(): Failure {
  const message = 'the journal on the disk cannot be added to: these lines are not saved';
  return { ok: false, code: 'disk', message };
}

function newerVersion(): Failure {
  const message = 'this journal was made by a newer release and is left untouched';
  return { ok: false, code: 'newer-version', message };
}

function nothing(stamp: string): Known {
  return { stamp, entry: null, isNewer: false };
}
