import { type BodyLine, formatLine, MAX_LINE_BYTES, type OpenLine } from '../machines/journal.ts';
import { JournalOrder, type NumberedLine } from '../machines/journal-reader.ts';
import type { Acknowledgement, Batch, Failure, LinesWritten, Result } from './contract.ts';
import type { JournalFile } from './journal-file.ts';

/** How far the drill has come: once for what is taken in, once for what is on the disk. */
type Progress = { order: JournalOrder; throughLine: number; sequences: Map<string, number> };

/**
 * A drill that this host opened: checks batches, numbers their lines, writes them and tells of them.
 * A batch is taken whole or not at all. When a flush fails, everything not on the disk is forgotten here as
 * it is in the file, so that the same sequence can be sent again.
 */
export class LiveDrill {
  readonly open: OpenLine;
  readonly fileName: string;
  private readonly file: JournalFile;
  private readonly tell: (written: LinesWritten) => void;
  private taken: Progress;
  private settled: Progress;
  /** The answer to every batch taken, so that a repeat gets the same one, even while the first is under way. */
  private readonly answers = new Map<string, Promise<Result<Acknowledgement>>>();
  private readonly unsettled = new Set<string>();
  /** Counts the failed flushes: several batches fail together, and only the first of them sets us back. */
  private setbacks = 0;

  constructor(open: OpenLine, fileName: string, file: JournalFile, tell: (written: LinesWritten) => void) {
    this.open = open;
    this.fileName = fileName;
    this.file = file;
    this.tell = tell;
    const start: Progress = { order: orderFrom(open), throughLine: 1, sequences: new Map() };
    this.settled = start;
    this.taken = copyOf(start, open);
  }

  append(batch: Batch): Promise<Result<Acknowledgement>> {
    const key = `${batch.windowId} ${batch.sequence}`;
    const known = this.answers.get(key);
    if (known !== undefined) return known;
    const expected = (this.taken.sequences.get(batch.windowId) ?? 0) + 1;
    if (batch.sequence !== expected) {
      return refuse('wrong-sequence', `sequence is ${batch.sequence}, and ${expected} comes next`);
    }
    const next = copyOf(this.taken, this.open);
    const texts: string[] = [];
    const lines: NumberedLine[] = [];
    for (const [index, line] of batch.lines.entries()) {
      const text = formatLine(line);
      const problem = problemOf(line, text, next.order);
      if (problem !== null) return refuse('bad-line', `line ${index + 1} of the batch: ${problem}`);
      next.order.take(line);
      next.throughLine += 1;
      texts.push(text);
      lines.push({ number: next.throughLine, line });
    }
    next.sequences.set(batch.windowId, batch.sequence);
    this.taken = next;
    this.unsettled.add(key);
    const answer = this.write(key, batch, texts, lines);
    this.answers.set(key, answer);
    return answer;
  }

  /** True once the close line is on the disk. */
  get isClosed(): boolean {
    return this.settled.order.isClosed;
  }

  /** Bytes of the journal that are on the disk. */
  get length(): number {
    return this.file.length;
  }

  /** Waits for the flush that runs and lets go of the file; the journal stays as it is. */
  async leave(): Promise<void> {
    if (!this.isClosed) await this.file.close();
  }

  private async write(
    key: string,
    batch: Batch,
    texts: readonly string[],
    lines: readonly NumberedLine[],
  ): Promise<Result<Acknowledgement>> {
    const { setbacks } = this;
    const flushed = await this.file.append(texts);
    if (!flushed.ok) {
      if (setbacks === this.setbacks) this.setBack();
      return flushed;
    }
    this.unsettled.delete(key);
    for (const { line } of lines) this.settled.order.take(line);
    this.settled.throughLine += lines.length;
    this.settled.sequences.set(batch.windowId, batch.sequence);
    const { throughLine } = this.settled;
    this.tell({ drillId: this.open.id, lines });
    // All lines are on the disk: a file that will not let go changes nothing for anyone.
    if (this.isClosed) await this.file.close().catch(() => undefined);
    return { ok: true, value: { throughLine } };
  }

  private setBack(): void {
    this.setbacks += 1;
    this.taken = copyOf(this.settled, this.open);
    for (const key of this.unsettled) this.answers.delete(key);
    this.unsettled.clear();
  }
}

function problemOf(line: BodyLine, text: string, order: JournalOrder): string | null {
  const problem = order.problemOf(line);
  if (problem !== null) return `${problem.field === null ? '' : `${problem.field} `}${problem.problem}`;
  return Buffer.byteLength(text) > MAX_LINE_BYTES ? `it is longer than ${MAX_LINE_BYTES} bytes` : null;
}

function refuse(code: Failure['code'], message: string): Promise<Failure> {
  return Promise.resolve({ ok: false, code, message });
}

function orderFrom(open: OpenLine): JournalOrder {
  const order = new JournalOrder();
  order.take(open);
  return order;
}

function copyOf(progress: Progress, open: OpenLine): Progress {
  const order = orderFrom(open);
  const at = progress.order.lastAtMs;
  order.take(progress.order.isClosed ? { kind: 'close', at } : { kind: 'unknown', at });
  return { order, throughLine: progress.throughLine, sequences: new Map(progress.sequences) };
}
