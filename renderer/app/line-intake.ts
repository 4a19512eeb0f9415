import type { Bridge, LinesWritten } from '../../electron/contract.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';

/**
 * A drill's lines as they are written, each once and in order. A window that came in the middle may have missed some between
 * reading and hearing: where a number is missing, the drill is read again.
 */
export class LineIntake {
  private readonly bridge: Pick<Bridge, 'readDrill'>;
  private readonly drillId: string;
  private readonly take: (lines: readonly NumberedLine[]) => void;
  private throughLine: number;
  /** The last number that was heard of, taken or not. */
  private heardThrough = 0;
  private isReading = false;

  constructor(
    bridge: Pick<Bridge, 'readDrill'>,
    drillId: string,
    throughLine: number,
    take: (lines: readonly NumberedLine[]) => void,
  ) {
    this.bridge = bridge;
    this.drillId = drillId;
    this.throughLine = throughLine;
    this.take = take;
  }

  hear({ drillId, lines }: LinesWritten): void {
    if (drillId !== this.drillId) return;
    this.heardThrough = Math.max(this.heardThrough, lines.at(-1)?.number ?? 0);
    const fresh = lines.filter(({ number }) => number > this.throughLine);
    const [first] = fresh;
    const last = fresh.at(-1);
    if (first === undefined || last === undefined) return;
    if (first.number > this.throughLine + 1) {
      void this.catchUp();
      return;
    }
    this.throughLine = last.number;
    this.take(fresh);
  }

  private async catchUp(): Promise<void> {
    if (this.isReading) return;
    this.isReading = true;
    const before = this.throughLine;
    const read = await this.bridge.readDrill(this.drillId);
    this.isReading = false;
    if (read.ok) this.hear(read.value);
    // What was written while it was read may have been heard too soon to be taken, the last line too.
    if (this.throughLine > before && this.throughLine < this.heardThrough) await this.catchUp();
  }
}
