import type { Ms } from '../machines/units.ts';
import type { Attendance, DrillWindows, DrillZero } from './contract.ts';

type Seat = Omit<DrillWindows['windows'][number], 'windowId'>;

/** The windows that attend one drill, which of them has the count, and where the drill's 0 is on the host's clock. */
export class AttendingWindows {
  private readonly drillId: string;
  private readonly seats = new Map<string, Seat>();
  private zero: DrillZero;
  private version = 0;
  private countGoneMs: number | null = null;
  /** Two windows have attended at once: their lines may come out of order from then on. */
  wasShared = false;

  constructor(drillId: string, zero: DrillZero) {
    this.drillId = drillId;
    this.zero = zero;
  }

  /** Takes what a window says of itself; the first to come has the count. */
  attend({ windowId, role, hasFocus, zero }: Attendance): void {
    this.version += 1;
    this.seats.set(windowId, { role, hasFocus });
    if (zero !== null) this.zero = zero;
    this.wasShared ||= this.seats.size > 1;
  }

  /** True if the window was there. */
  leave(windowId: string, nowMs: Ms): boolean {
    this.version += 1;
    if (windowId === this.news.countId) this.countGoneMs = nowMs;
    return this.seats.delete(windowId);
  }

  get ids(): readonly string[] {
    return [...this.seats.keys()];
  }

  get news(): DrillWindows {
    const windows = [...this.seats].map(([windowId, seat]) => ({ windowId, ...seat }));
    return {
      drillId: this.drillId,
      version: this.version,
      windows,
      countId: windows[0]?.windowId ?? null,
      countGoneMs: this.countGoneMs,
      zero: this.zero,
    };
  }
}
