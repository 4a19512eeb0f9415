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
    const read = await this.bridge.readDrill(this.drillId);
    this.isReading = false;
    if (read.ok) this.hear(read.value);
  }
}
