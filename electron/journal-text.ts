import { MAX_LINE_BYTES } from '../machines/journal.ts';
import {
  type Journal,
  type JournalError,
  JournalReader,
  type ReadJournal,
} from '../machines/journal-reader.ts';
import { type Disk, nodeDisk } from './disk.ts';
import { readProblem } from './disk-failure.ts';

export type ReadJournalFile =
  | { ok: true; journal: Journal }
  | { ok: false; message: string; error: JournalError | null };

/**
 * Reads a journal from disk as a stream, and changes nothing. `message` reads `file:line: what is wrong`, with the field
 * before it where there is one; what is wrong with the file as a whole stands at line 1. Never rejects.
 */
export async function readJournalFile(path: string, disk: Disk = nodeDisk): Promise<ReadJournalFile> {
  try {
    const facts = await disk.factsOf(path);
    if (facts.kind === 'folder') return wholeFile(path, 'this is a folder, not a journal');
    if (facts.kind === 'other') return wholeFile(path, 'this is not a file');
    const { read } = await scanJournal(disk.read(path));
    if (read.ok) return read;
    return { ok: false, message: formatJournalError(path, read.error), error: read.error };
  } catch (error) {
    return wholeFile(path, readProblem(error));
  }
}

/** `file:line: what is wrong`. */
function formatJournalError(path: string, error: JournalError): string {
  return `${path}:${error.line}: ${error.field === null ? '' : `${error.field} `}${error.problem}`;
}

/** A journal's bytes, read through: what it says, and where its good part ends. */
export type JournalScan = {
  read: ReadJournal;
  /** Bytes up to the end of the last good line, with its newline where it has one. */
  goodBytes: number;
  /** False when the last good line lacks its newline. */
  endsLine: boolean;
  totalBytes: number;
  /** The torn last line without the NULs after it; empty when there is none. */
  tornLine: Uint8Array;
};

/** Reads a journal's bytes through, and stops at the first error; memory does not grow with a line's length. */
export async function scanJournal(chunks: AsyncIterable<Uint8Array>): Promise<JournalScan> {
  const bytes = new JournalBytes();
  for await (const chunk of chunks) if (!bytes.push(chunk)) break;
  return bytes.finish();
}

/** NULs at the end of a file that are still taken for the mark of a power cut (tool default). */
const MAX_NUL_BYTES = 16 * 1024 * 1024;
const NEWLINE = 0x0a;

/** Cuts bytes into lines, reads each as UTF-8 and hands it to the JournalReader. */
class JournalBytes {
  private readonly reader = new JournalReader();
  private parts: Uint8Array[] = [];
  private lineBytes = 0;
  /** NULs seen last: part of the line only if something else follows. */
  private heldNuls = 0;
  private totalBytes = 0;
  private goodBytes = 0;
  private endsLine = true;
  private notUtf8: JournalError | null = null;
  private tornLine: Uint8Array = new Uint8Array();

  /** False once an error is known and reading may stop. */
  push(chunk: Uint8Array): boolean {
    let from = 0;
    while (from < chunk.length) {
      const newline = chunk.indexOf(NEWLINE, from);
      const end = newline === -1 ? chunk.length : newline;
      if (!this.addPart(chunk.subarray(from, end))) return false;
      if (newline !== -1 && !this.endLine()) return false;
      from = end + 1;
    }
    return true;
  }

  finish(): JournalScan {
    if (this.lineBytes > 0) this.takeLine(false);
    this.totalBytes += this.heldNuls;
    return {
      read: this.finishRead(),
      goodBytes: this.goodBytes,
      endsLine: this.endsLine,
      totalBytes: this.totalBytes,
      tornLine: this.tornLine,
    };
  }

  private addPart(part: Uint8Array): boolean {
    let solid = part.length;
    while (solid > 0 && part[solid - 1] === 0) solid -= 1;
    if (solid > 0 && !(this.addNuls() && this.addBytes(part.slice(0, solid)))) return false;
    this.heldNuls += part.length - solid;
    return this.heldNuls <= MAX_NUL_BYTES || this.failTooLong();
  }

  private addNuls(): boolean {
    const nuls = this.heldNuls;
    this.heldNuls = 0;
    if (nuls === 0) return true;
    return nuls > MAX_LINE_BYTES ? this.failTooLong() : this.addBytes(new Uint8Array(nuls));
  }

  private addBytes(bytes: Uint8Array): boolean {
    if (this.lineBytes + bytes.length > MAX_LINE_BYTES) return this.failTooLong();
    this.lineBytes += bytes.length;
    this.parts.push(bytes);
    return true;
  }

  private endLine(): boolean {
    return this.addNuls() && this.takeLine(true);
  }

  private takeLine(hasNewline: boolean): boolean {
    const bytes = Buffer.concat(this.parts);
    this.parts = [];
    this.lineBytes = 0;
    this.totalBytes += bytes.length + (hasNewline ? 1 : 0);
    if (this.notUtf8 !== null) return this.reader.fail(this.notUtf8);
    const text = decode(bytes, this.reader.nextLine === 1);
    if (text === null) {
      this.notUtf8 = { line: this.reader.nextLine, field: null, problem: 'the line is not UTF-8 text' };
      this.tornLine = bytes;
      return !this.reader.isTorn || this.reader.push('');
    }
    if (!this.reader.push(text)) return false;
    if (this.reader.isTorn) this.tornLine = bytes;
    else {
      this.goodBytes = this.totalBytes;
      this.endsLine = hasNewline;
    }
    return true;
  }

  private finishRead(): ReadJournal {
    const read = this.reader.finish();
    if (!read.ok) {
      const isFirst = this.notUtf8?.line === 1 && read.error.line === 1;
      return isFirst && this.notUtf8 !== null ? { ok: false, error: this.notUtf8 } : read;
    }
    const tornBytes = this.totalBytes - this.goodBytes;
    return { ok: true, journal: { ...read.journal, skipped: { ...read.journal.skipped, tornBytes } } };
  }

  private failTooLong(): false {
    const problem = `the line is longer than ${MAX_LINE_BYTES} bytes`;
    return this.reader.fail({ line: this.reader.nextLine, field: null, problem });
  }
}

const strictText = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
/** Takes away a byte order mark, which some editors put before a file's first line. */
const firstText = new TextDecoder('utf-8', { fatal: true, ignoreBOM: false });

function decode(bytes: Uint8Array, isFirst: boolean): string | null {
  try {
    return (isFirst ? firstText : strictText).decode(bytes);
  } catch {
    return null;
  }
}

function wholeFile(path: string, problem: string): ReadJournalFile {
  return { ok: false, message: `${path}:1: ${problem}`, error: null };
}
