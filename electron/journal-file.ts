import { dirname } from 'node:path';
import type { Failure } from './contract.ts';
import type { Disk, DiskFile } from './disk.ts';
import { diskFailure } from './disk-failure.ts';

export type Flushed = { ok: true } | Failure;
type Waiting = { bytes: Uint8Array; answer: (flushed: Flushed) => void };

/**
 * One journal being written. An append is answered when the flush that covers it has returned, not before;
 * what arrives while a flush runs shares the next one.
 *
 * When a write or flush fails, everything that waits is refused, the file is cut back to the last flushed
 * length, and the next append starts from there. If the cutting fails too, it is tried again before
 * anything else is written, so half a line is never followed by more lines. Lines that were refused are
 * written anew: a flush that failed once is never trusted to have kept them (a kernel may drop the pages).
 */
export class JournalFile {
  private readonly file: DiskFile;
  private flushedBytes: number;
  private waiting: Waiting[] = [];
  private running: Promise<void> | null = null;
  private isUncertain = false;

  private constructor(file: DiskFile, flushedBytes: number) {
    this.file = file;
    this.flushedBytes = flushedBytes;
  }

  /** Makes the file with its first line; answered when file and folder are flushed. A file that could not be finished is taken away. */
  static async create(
    disk: Disk,
    path: string,
    firstLine: string,
  ): Promise<{ ok: true; file: JournalFile } | Failure> {
    let made: DiskFile | null = null;
    try {
      made = await disk.create(path);
      const bytes = encode([firstLine]);
      await writeWhole(made, bytes, 0);
      await made.syncAll();
      await disk.syncFolder(dirname(path));
      return { ok: true, file: new JournalFile(made, bytes.length) };
    } catch (error) {
      if (made !== null) await takeAway(disk, made, path);
      return diskFailure(error);
    }
  }

  /** Opens a file that is there, to add to it; `bytes` is all of it, as it was read. */
  static async reopen(
    disk: Disk,
    path: string,
    bytes: number,
  ): Promise<{ ok: true; file: JournalFile } | Failure> {
    try {
      return { ok: true, file: new JournalFile(await disk.mend(path), bytes) };
    } catch (error) {
      return diskFailure(error);
    }
  }

  /** Lines as they stand in the file, without newlines; all of them are flushed, or none is kept. */
  append(lines: readonly string[]): Promise<Flushed> {
    const answered = new Promise<Flushed>((answer) => {
      this.waiting.push({ bytes: encode(lines), answer });
    });
    this.running ??= this.flushUntilEmpty();
    return answered;
  }

  /** Bytes known to be on the disk. */
  get length(): number {
    return this.flushedBytes;
  }

  /** Waits for the flush that runs, then lets go of the file. */
  async close(): Promise<void> {
    await this.running;
    await this.file.close();
  }

  private async flushUntilEmpty(): Promise<void> {
    while (this.waiting.length > 0) {
      const group = this.waiting;
      this.waiting = [];
      const flushed = await this.flush(Buffer.concat(group.map((one) => one.bytes)));
      // What came meanwhile was checked as if the refused lines were there: it goes the same way.
      const answered = flushed.ok ? group : [...group, ...this.waiting];
      if (!flushed.ok) this.waiting = [];
      for (const one of answered) one.answer(flushed);
    }
    this.running = null;
  }

  private async flush(bytes: Uint8Array): Promise<Flushed> {
    try {
      if (this.isUncertain) await this.cutBack();
      this.isUncertain = true;
      await writeWhole(this.file, bytes, this.flushedBytes);
      await this.file.sync();
      this.isUncertain = false;
      this.flushedBytes += bytes.length;
      return { ok: true };
    } catch (error) {
      if (this.isUncertain) await this.cutBack().catch(() => undefined);
      return diskFailure(error);
    }
  }

  private async cutBack(): Promise<void> {
    await this.file.truncate(this.flushedBytes);
    await this.file.sync();
    this.isUncertain = false;
  }
}

/** Writes all of the bytes, however few the system takes at a time. */
export async function writeWhole(file: DiskFile, bytes: Uint8Array, position: number): Promise<void> {
  let done = 0;
  while (done < bytes.length) {
    const taken = await file.write(bytes.subarray(done), position + done);
    if (taken <= 0) throw new Error('the disk took no bytes');
    done += taken;
  }
}

function encode(lines: readonly string[]): Uint8Array {
  return Buffer.from(lines.map((line) => `${line}\n`).join(''), 'utf8');
}

async function takeAway(disk: Disk, made: DiskFile, path: string): Promise<void> {
  // The failure that led here is the one to report; an unfinished file left behind is no journal and is passed over.
  await made.close().catch(() => undefined);
  await disk.remove(path).catch(() => undefined);
}
