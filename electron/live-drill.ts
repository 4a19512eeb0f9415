import { type BodyLine, formatLine, MAX_LINE_BYTES, type OpenLine } from '../machines/journal.ts';
import { JournalOrder, type NumberedLine } from '../machines/journal-reader.ts';
import type {
  Acknowledgement,
  Attendance,
  Batch,
  DrillWindows,
  Failure,
  LinesWritten,
  Result,
} from './contract.ts';
import { AttendingWindows } from './drill-windows.ts';
import type { HostClock } from './host-clock.ts';
import type { Flushed, JournalFile } from './journal-file.ts';
import { lateNote, placedAfter } from './late-lines.ts';
import { type HeldLine, LineMerge } from './line-merge.ts';

export type LiveDrillParts = {
  open: OpenLine;
  fileName: string;
  file: JournalFile;
  tell: (written: LinesWritten) => void;
  clock: HostClock;
};
/** How far the drill has come: once for what is taken in, once for what is on the disk. */
type Progress = { order: JournalOrder; throughLine: number; sequences: Map<string, number> };
/** A batch whose lines are not all on the disk. */
type OpenBatch = { batch: Batch; left: number; answer: (result: Result<Acknowledgement>) => void };

/**
 * A drill that this host opened: checks batches, numbers their lines, writes them and tells of them.
 * A batch is taken whole or not at all. When a flush fails, everything not on the disk is forgotten here as
 * it is in the file, so that the same sequence can be sent again.
 *
 * With one window, lines are written as they come. From when two attend, lines are merged by their times, and
 * one that comes too late for its place stands at the last line's time, with a `late` line after it.
 */
export class LiveDrill {
  readonly open: OpenLine;
  readonly fileName: string;
  private readonly parts: LiveDrillParts;
  private readonly attending: AttendingWindows;
  private readonly merge = new LineMerge();
  private taken: Progress;
  private settled: Progress;
  /** The answer to every batch taken, so that a repeat gets the same one, even while the first is under way. */
  private readonly answers = new Map<string, Promise<Result<Acknowledgement>>>();
  private readonly unsettled = new Map<string, OpenBatch>();
  /** How many of the next lines of a window are on the disk already, from a batch that failed in its middle. */
  private readonly kept = new Map<string, number>();
  /** Counts the failed flushes: several batches fail together, and only the first of them sets us back. */
  private setbacks = 0;
  private stopWaiting = (): void => undefined;

  constructor(parts: LiveDrillParts) {
    this.parts = parts;
    this.open = parts.open;
    this.fileName = parts.fileName;
    this.attending = new AttendingWindows(parts.open.id, { hostMs: parts.clock.now(), errorMs: null });
    const start: Progress = { order: orderFrom(parts.open), throughLine: 1, sequences: new Map() };
    this.settled = start;
    this.taken = copyOf(start, parts.open);
  }

  append(batch: Batch): Promise<Result<Acknowledgement>> {
    const key = `${batch.windowId} ${batch.sequence}`;
    const known = this.answers.get(key);
    if (known !== undefined) return known;
    const expected = (this.taken.sequences.get(batch.windowId) ?? 0) + 1;
    if (batch.sequence !== expected) {
      return refuse('wrong-sequence', `sequence is ${batch.sequence}, and ${expected} comes next`);
    }
    const problem = this.problemOf(batch);
    if (problem !== null) return refuse('bad-line', problem);
    this.taken.sequences.set(batch.windowId, batch.sequence);
    const lines = this.withoutKept(batch);
    const answer = new Promise<Result<Acknowledgement>>((resolve) => {
      this.unsettled.set(key, { batch, left: lines.length, answer: resolve });
    });
    this.answers.set(key, answer);
    const cameMs = this.parts.clock.now();
    this.merge.awaitAnswer(batch.windowId);
    if (lines.length === 0) this.settleBatch(key);
    this.merge.add(lines.map((line) => ({ line, windowId: batch.windowId, batch: key, cameMs })));
    this.release();
    return answer;
  }

  attend(attendance: Attendance): void {
    this.attending.attend(attendance);
    this.release();
  }

  /** True if the window attended. Nobody waits for its lines any more. */
  dismiss(windowId: string): boolean {
    const wasHere = this.attending.leave(windowId, this.parts.clock.now());
    if (wasHere) this.release();
    return wasHere;
  }

  get windows(): DrillWindows {
    return this.attending.news;
  }

  /** True once the close line is on the disk. */
  get isClosed(): boolean {
    return this.settled.order.isClosed;
  }

  /** Bytes of the journal that are on the disk. */
  get length(): number {
    return this.parts.file.length;
  }

  /** Writes what waits, waits for the flush that runs and lets go of the file; the journal stays as it is. */
  async leave(): Promise<void> {
    for (const windowId of this.attending.ids) this.attending.leave(windowId, this.parts.clock.now());
    this.release();
    this.stopWaiting();
    if (!this.isClosed) await this.parts.file.close();
  }

  /** With one window a time that goes back is the window's mistake; with two only one within a batch is. */
  private problemOf(batch: Batch): string | null {
    const isShared = this.attending.wasShared;
    const order = isShared ? orderFrom(this.open) : copyOf(this.taken, this.open).order;
    for (const [index, line] of batch.lines.entries()) {
      const isTwice = line.kind === 'close' && this.merge.hasClose;
      // Remarks may follow a close line, but not by this way: nobody attends a drill that is closed.
      const isAfterClose = isTwice || order.isClosed || this.taken.order.isClosed;
      const problem = isAfterClose ? 'kind comes after the close line' : problemOf(line, order);
      if (problem !== null) return `line ${index + 1} of the batch: ${problem}`;
      order.take(line);
    }
    return null;
  }

  /** Writes what need wait no longer, and wakes for the next. */
  private release(): void {
    this.stopWaiting();
    const { clock } = this.parts;
    const others = this.attending.wasShared ? this.attending.ids : [];
    const held = this.merge.take(clock.now(), others);
    if (held.length > 0) void this.write(held);
    const dueMs = this.merge.nextDueMs(others);
    if (dueMs !== null) this.stopWaiting = clock.wake(Math.max(0, dueMs - clock.now()), () => this.release());
  }

  private async write(held: readonly HeldLine[]): Promise<void> {
    const { setbacks } = this;
    const lines: NumberedLine[] = [];
    for (const { line } of held) {
      const lastMs = this.taken.order.lastAtMs;
      const placed = placedAfter(line, lastMs);
      const note = lateNote(line, lastMs);
      for (const one of note === null ? [placed] : [placed, note]) {
        this.taken.order.take(one);
        this.taken.throughLine += 1;
        lines.push({ number: this.taken.throughLine, line: one });
      }
    }
    const flushed = await this.parts.file.append(lines.map(({ line }) => formatLine(line)));
    if (!flushed.ok) {
      if (setbacks === this.setbacks) this.setBack(flushed);
      return;
    }
    for (const { line } of lines) this.settled.order.take(line);
    this.settled.throughLine += lines.length;
    this.parts.tell({ drillId: this.open.id, lines });
    // All lines are on the disk: a file that will not let go changes nothing for anyone.
    if (this.isClosed) await this.parts.file.close().catch(() => undefined);
    for (const { batch } of held) this.settle(batch);
    this.release();
  }

  private withoutKept({ windowId, lines }: Batch): readonly BodyLine[] {
    const kept = this.kept.get(windowId) ?? 0;
    const skipped = Math.min(kept, lines.length);
    this.kept.set(windowId, kept - skipped);
    return lines.slice(skipped);
  }

  private settle(key: string): void {
    const open = this.unsettled.get(key);
    if (open === undefined) return;
    open.left -= 1;
    if (open.left === 0) this.settleBatch(key);
  }

  private settleBatch(key: string): void {
    const open = this.unsettled.get(key);
    if (open === undefined) return;
    const { windowId, sequence } = open.batch;
    this.unsettled.delete(key);
    this.settled.sequences.set(windowId, sequence);
    this.merge.answered(windowId, this.parts.clock.now());
    open.answer({ ok: true, value: { throughLine: this.settled.throughLine } });
  }

  private setBack(failure: Exclude<Flushed, { ok: true }>): void {
    this.setbacks += 1;
    this.taken = copyOf(this.settled, this.open);
    this.merge.clear();
    const failed = [...this.unsettled];
    this.unsettled.clear();
    for (const [key, { batch, left, answer }] of failed) {
      this.answers.delete(key);
      this.kept.set(batch.windowId, (this.kept.get(batch.windowId) ?? 0) + batch.lines.length - left);
      answer(failure);
    }
  }
}

function problemOf(line: BodyLine, order: JournalOrder): string | null {
  const problem = order.problemOf(line);
  if (problem !== null) return `${problem.field === null ? '' : `${problem.field} `}${problem.problem}`;
  const isTooLong = Buffer.byteLength(formatLine(line)) > MAX_LINE_BYTES;
  return isTooLong ? `it is longer than ${MAX_LINE_BYTES} bytes` : null;
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
