import type { DrillText } from '../../electron/contract.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { type Rehearsal, type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import type { Ms } from '../../machines/units.ts';
import { DrillClock } from '../adapters/drill-clock.ts';
import { DrillSession } from './drill-session.ts';

/** The walk through's drill: ninety seconds with a swap, after which every third breath comes too soon. */
export const WALK_DRILL: RehearsalOptions = {
  seed: 11,
  minutes: 1.5,
  guidance: 'weaned',
  rig: 'rhythm',
  planted: [24, 27, 30, 33, 36, 39].map((cycle) => ({ cycle, fault: 'early-breath' as const })),
};

/**
 * An invented drill, shown through the window's own screens. It has no bridge: what would be written is let go, so
 * nothing of it can reach the station's journals.
 */
export class PlayedDrill {
  readonly text: DrillText;
  session: DrillSession;
  private readonly pageNow: () => Ms;
  private readonly lines: readonly NumberedLine[];
  private shown = { fromMs: 0, untilMs: 0, sinceMs: 0 };
  private told = 0;

  constructor(pageNow: () => Ms, { open, lines }: Pick<Rehearsal, 'open' | 'lines'> = rehearse(WALK_DRILL)) {
    this.pageNow = pageNow;
    this.lines = lines.map((line, index) => ({ number: index + 2, line }));
    this.text = { drillId: open.id, fileName: '', open, lines: this.lines, isClosed: true };
    this.session = this.show(0, 0);
  }

  /** Shows the drill as it stands at a time, and goes on from there, but not beyond another. Times are drill ms. */
  show(fromMs: Ms, untilMs: Ms): DrillSession {
    this.shown = { fromMs, untilMs, sinceMs: this.pageNow() };
    const linesSoFar = this.lines.filter(({ line }) => (line.at ?? 0) <= fromMs);
    this.told = linesSoFar.length;
    const { drillId, fileName, open } = this.text;
    this.session = new DrillSession({
      opened: { drillId, fileName, open },
      bridge: {
        appendLines: async () => ({ ok: true, value: { throughLine: 0 } }),
        readDrill: async () => ({ ok: true, value: this.text }),
        onLinesWritten: () => () => undefined,
      },
      clock: new DrillClock(0, () => this.nowMs),
      switches: { listen: () => () => undefined },
      windowId: open.id,
      wait: () => new Promise(() => undefined),
      makeCount: () => ({ follow: () => undefined, look: () => undefined }),
      linesSoFar,
    });
    return this.session;
  }

  /** Time has passed: what happened until now is heard. */
  advance(): void {
    const now = this.nowMs;
    const lines = this.lines.slice(this.told).filter(({ line }) => (line.at ?? 0) <= now);
    this.told += lines.length;
    if (lines.length > 0) this.session.hearWritten({ drillId: this.text.drillId, lines });
    this.session.tick();
  }

  /** Drill ms. */
  private get nowMs(): Ms {
    const { fromMs, untilMs, sinceMs } = this.shown;
    return Math.min(untilMs, fromMs + this.pageNow() - sinceMs);
  }
}
