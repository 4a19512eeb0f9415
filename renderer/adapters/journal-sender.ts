import {
  type Acknowledgement,
  type Batch,
  type Failure,
  MAX_BATCH_LINES,
  type Result,
} from '../../electron/contract.ts';
import type { BodyLine } from '../../machines/journal.ts';

export type SenderParts = {
  append: (batch: Batch) => Promise<Result<Acknowledgement>>;
  drillId: string;
  windowId: string;
  /** Waits before an attempt is made again; `attempt` counts from 1. */
  wait: (attempt: number) => Promise<void>;
  /** Hears of trouble, and null when lines are saved again. */
  onTrouble: (trouble: SenderTrouble | null) => void;
};
/** `refused` are lines that will never be saved; those that wait are tried again and are not among them. */
export type SenderTrouble = { failure: Failure; refused: readonly BodyLine[] };
type Waiting = { line: BodyLine; characters: number; answer: (result: Result<Acknowledgement>) => void };

/** Characters of one batch at the most: in UTF-8 it stays well under the carrier's limit of 1 MiB. */
const MAX_BATCH_CHARACTERS = 200_000;

/**
 * Sends a drill's lines in the order they were given: one batch in flight, everything that comes meanwhile in the
 * next. A batch whose answer was lost, or that the disk refused, is sent again under the same sequence,
 * so nothing is written twice. A batch with a bad line is sent again line by line, to lose that line only.
 */
export class JournalSender {
  private readonly parts: SenderParts;
  private readonly waiting: Waiting[] = [];
  private sequence = 1;
  private sending: Promise<void> | null = null;
  /** Lines that are sent one by one, to find the bad one among them. */
  private singly = 0;
  private ended: Failure | null = null;
  private isTroubled = false;

  constructor(parts: SenderParts) {
    this.parts = parts;
  }

  /** Answered when the line is on the disk, or known never to be. Never rejects. */
  send(line: BodyLine): Promise<Result<Acknowledgement>> {
    if (this.ended !== null) return Promise.resolve(this.ended);
    const answered = new Promise<Result<Acknowledgement>>((answer) => {
      this.waiting.push({ line, characters: JSON.stringify(line).length, answer });
    });
    this.sending ??= this.sendUntilEmpty();
    return answered;
  }

  /** Lines not yet answered. */
  get unsaved(): number {
    return this.waiting.length;
  }

  /** Resolves when nothing waits any more. */
  async whenIdle(): Promise<void> {
    while (this.sending !== null) await this.sending;
  }

  private async sendUntilEmpty(): Promise<void> {
    // Lines given in one go share the first batch.
    await Promise.resolve();
    while (this.waiting.length > 0) {
      const group = this.waiting.slice(0, this.nextCount());
      const result = await this.sendUntilAnswered(group.map(({ line }) => line));
      if (result.ok) this.settle(group, result);
      else if (result.code !== 'bad-line') this.end(result);
      else if (group.length > 1) this.singly = group.length;
      else this.dropBad(group, result);
    }
    this.sending = null;
  }

  private async sendUntilAnswered(lines: readonly BodyLine[]): Promise<Result<Acknowledgement>> {
    const { append, drillId, windowId } = this.parts;
    for (let attempt = 1; ; attempt += 1) {
      const result = await append({ drillId, windowId, sequence: this.sequence, lines });
      if (result.ok || !isWorthAnotherTry(result)) return result;
      this.complain({ failure: result, refused: [] });
      await this.parts.wait(attempt);
    }
  }

  private settle(group: readonly Waiting[], result: Result<Acknowledgement>): void {
    this.sequence += 1;
    this.takeOff(group);
    if (this.isTroubled) {
      this.isTroubled = false;
      this.parts.onTrouble(null);
    }
    for (const one of group) one.answer(result);
  }

  private dropBad(group: readonly Waiting[], failure: Failure): void {
    this.takeOff(group);
    this.complain({ failure, refused: group.map(({ line }) => line) });
    for (const one of group) one.answer(failure);
  }

  private end(failure: Failure): void {
    this.ended = failure;
    const all = this.waiting.splice(0);
    this.complain({ failure, refused: all.map(({ line }) => line) });
    for (const one of all) one.answer(failure);
  }

  private takeOff(group: readonly Waiting[]): void {
    this.waiting.splice(0, group.length);
    this.singly = Math.max(0, this.singly - group.length);
  }

  private complain(trouble: SenderTrouble): void {
    this.isTroubled = true;
    this.parts.onTrouble(trouble);
  }

  private nextCount(): number {
    if (this.singly > 0) return 1;
    let characters = 0;
    for (const [index, one] of this.waiting.entries()) {
      characters += one.characters;
      if (index > 0 && (index >= MAX_BATCH_LINES || characters > MAX_BATCH_CHARACTERS)) return index;
    }
    return this.waiting.length;
  }
}

/** A lost answer and a disk that may recover; anything else would be refused again. */
function isWorthAnotherTry(failure: Failure): boolean {
  return failure.code === 'internal' || failure.code === 'disk';
}
