import type { Writable } from 'node:stream';
import type { DrillWindows, LinesWritten } from './contract.ts';

/** How often an empty line is sent, so that either end finds out when the other is gone (tool default). */
const HEARTBEAT_MS = 15_000;
/** Bytes that may wait for a window that does not read; beyond, it is cut off, and reads anew when it comes back. */
export const MAX_WAITING_BYTES = 4 * 1024 * 1024;

/** What the host says unasked: a `LinesWritten` has lines, a `DrillWindows` has windows. */
export type Said = LinesWritten | DrillWindows;

/** The windows that listen to what the host says unasked: one long answer each, a JSON object a line. */
export class LineStreams {
  private readonly streams = new Set<Writable>();
  private readonly onCount: (count: number) => void;
  private readonly heartbeat: NodeJS.Timeout;

  constructor(onCount: (count: number) => void) {
    this.onCount = onCount;
    this.heartbeat = setInterval(() => this.send('\n'), HEARTBEAT_MS);
    this.heartbeat.unref();
  }

  /** `first` is what a window that has just come is told at once; `onGone` hears when it is no longer there. */
  add(stream: Writable, first: Said | null = null, onGone: () => void = () => undefined): void {
    this.streams.add(stream);
    stream.on('error', () => undefined);
    stream.on('close', () => {
      this.streams.delete(stream);
      onGone();
      this.onCount(this.streams.size);
    });
    // The first line tells the window that it is heard from here on.
    stream.write(first === null ? '\n' : `\n${JSON.stringify(first)}\n`);
    this.onCount(this.streams.size);
  }

  tell(said: Said): void {
    if (this.streams.size > 0) this.send(`${JSON.stringify(said)}\n`);
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
