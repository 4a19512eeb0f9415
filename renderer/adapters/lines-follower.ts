import type { DrillText, DrillWindows, LinesWritten, Result } from '../../electron/contract.ts';

export type FollowerParts = {
  /** Asks for the long answer that tells of lines written. */
  connect: (signal: AbortSignal) => Promise<Response>;
  readDrill: (drillId: string) => Promise<Result<DrillText>>;
  wait: (ms: number) => Promise<void>;
  /** Hears of the windows of a drill, whenever the host says them. */
  onWindows?: (windows: DrillWindows) => void;
};
type Listener = (written: LinesWritten) => void;
/** How far a drill has been told of. */
type Followed = { throughLine: number; isClosed: boolean };

const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 5000;

/**
 * Hears of lines written over a connection that may break. After every connecting, the drills it follows are
 * read once, and what was missed is told before what came meanwhile; a line is told once.
 */
export class LinesFollower {
  private readonly parts: FollowerParts;
  private readonly listeners = new Set<Listener>();
  private readonly followed = new Map<string, Followed>();
  /** What arrives while missed lines are being read; null when it can be told at once. */
  private held: LinesWritten[] | null = null;
  private connection: AbortController | null = null;

  constructor(parts: FollowerParts) {
    this.parts = parts;
  }

  /** Returns its unsubscribe function; connects with the first listener, and leaves with the last. */
  listen(listener: Listener): () => void {
    this.listeners.add(listener);
    if (this.connection === null) void this.stayConnected();
    return () => {
      this.listeners.delete(listener);
      if (this.listeners.size === 0) this.connection?.abort();
    };
  }

  /** From now on this drill's lines after a number are told, but for a drill already followed. */
  startAfter(drill: { drillId: string }, throughLine: number): void {
    if (!this.followed.has(drill.drillId)) this.followed.set(drill.drillId, { throughLine, isClosed: false });
  }

  close(): void {
    this.listeners.clear();
    this.connection?.abort();
  }

  private async stayConnected(): Promise<void> {
    let failures = 0;
    while (this.listeners.size > 0) {
      const connection = new AbortController();
      this.connection = connection;
      try {
        const response = await this.parts.connect(connection.signal);
        if (response.ok && response.body !== null) {
          failures = 0;
          await this.follow(response.body, connection);
        }
      } catch {
        // A broken connection is what the next turn is for.
      }
      if (this.listeners.size === 0) break;
      await this.parts.wait(Math.min(FIRST_WAIT_MS * 2 ** failures, LONGEST_WAIT_MS));
      failures += 1;
    }
    this.connection = null;
  }

  private async follow(body: ReadableStream<Uint8Array>, connection: AbortController): Promise<void> {
    this.held = [];
    void this.catchUp(connection);
    const reader = body.getReader();
    const decoder = new TextDecoder();
    let rest = '';
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      const texts = `${rest}${decoder.decode(value, { stream: true })}`.split('\n');
      rest = texts.pop() ?? '';
      for (const text of texts)
        if (text !== '') this.hearSaid(JSON.parse(text) as LinesWritten | DrillWindows);
    }
  }

  private async catchUp(connection: AbortController): Promise<void> {
    for (const [drillId, drill] of this.followed) {
      if (drill.isClosed) continue;
      const read = await this.parts.readDrill(drillId);
      if (connection.signal.aborted) return;
      if (read.ok) this.tell({ drillId, lines: read.value.lines });
      else if (read.code === 'no-such-drill') this.followed.delete(drillId);
      else return connection.abort();
    }
    const held = this.held ?? [];
    this.held = null;
    for (const written of held) this.tell(written);
  }

  private hearSaid(said: LinesWritten | DrillWindows): void {
    if ('windows' in said) this.parts.onWindows?.(said);
    else this.hear(said);
  }

  private hear(written: LinesWritten): void {
    if (this.held !== null) this.held.push(written);
    else this.tell(written);
  }

  private tell(written: LinesWritten): void {
    const drill = this.followed.get(written.drillId) ?? { throughLine: 0, isClosed: false };
    this.followed.set(written.drillId, drill);
    const lines = written.lines.filter(({ number }) => number > drill.throughLine);
    const last = lines.at(-1);
    if (last === undefined) return;
    drill.throughLine = last.number;
    // Remarks follow a close line: they do not open it again.
    drill.isClosed ||= lines.some(({ line }) => line.kind === 'close');
    for (const listener of this.listeners) listener({ drillId: written.drillId, lines });
  }
}
