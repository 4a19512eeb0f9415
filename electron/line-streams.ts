import type { Writable } from 'node:stream';
import type { LinesWritten } from './contract.ts';

/** How often an empty line is sent, so that either end finds out when the other is gone (tool default). */
const HEARTBEAT_MS = 15_000;
/** Bytes that may wait for a window that does not read; beyond, it is cut off, and reads anew when it comes back. */
export const MAX_WAITING_BYTES = 4 * 1024 * 1024;

/** The windows that listen for lines written: one long answer each, a JSON object a line. */
export class LineStreams {
  private readonly streams = new Set<Writable>();
  private readonly onCount: (count: number) => void;
  private readonly heartbeat: NodeJS.Timeout;

  constructor(onCount: (count: number) => void) {
    this.onCount = onCount;
    this.heartbeat = setInterval(() => this.send('\n'), HEARTBEAT_MS);
    this.heartbeat.unref();
  }

  add(stream: Writable): void {
    this.streams.add(stream);
    stream.on('error', () => undefined);
    stream.on('close', () => {
      this.streams.delete(stream);
      this.onCount(this.streams.size);
    });
    // The first line tells the window that it is heard from here on.
    stream.write('\n');
    this.onCount(this.streams.size);
  }

  tell(written: LinesWritten): void {
    if (this.streams.size > 0) this.send(`${JSON.stringify(written)}\n`);
  }

  close(): void {
    clearInterval(this.heartbeat);
    for (const stream of this.streams) stream.end();
  }

  private send(text: string): void {
    for (const stream of this.streams) {
      if (stream.writableLength > MAX_WAITING_BYTES) stream.destroy();
      else stream.write(text);
    }
  }
}
