import type { Attendance, Bridge, DrillWindows, DrillZero, WindowRole } from '../../electron/contract.ts';
import type { BodyLine, EdgeLine, Switch } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import type { DrillClock } from '../adapters/drill-clock.ts';
import { HostOffset } from '../adapters/host-offset.ts';
import type { OtherWindows } from '../switches/other-windows.ts';

export type AttendanceParts = {
  bridge: Pick<Bridge, 'attendDrill' | 'pingClock' | 'onWindowsChanged'>;
  drillId: string;
  windowId: string;
  role: WindowRole;
  hasFocus: boolean;
  clock: DrillClock;
  /** Where the drill's 0 is, for a window that did not open it; null: this window's page time at open is the drill's 0. */
  zero: DrillZero | null;
  /** Calls once after a while; returns what takes that back. */
  wake: (afterMs: Ms, then: () => void) => () => void;
};
type Known = { at: Ms; isSo: boolean };

/** Pings in one measurement: the shortest round trip of so many is as good as it gets (tool default). */
const PINGS = 8;
/** Measured anew so often, for drift and for a computer that slept (tool default). */
const MEASURE_EVERY_MS: Ms = 30_000;

/**
 * This window's part in a drill that other windows of the station may attend too: it says that it is here and whether it
 * has the keyboard, keeps the drill's clock right by measuring the host's, and knows what the switches did in any window.
 */
export class DrillAttendance implements OtherWindows {
  private readonly parts: AttendanceParts;
  private readonly offset = new HostOffset();
  private readonly listeners = new Set<() => void>();
  /** By the latest edge that this window made or heard of. */
  private readonly downs = new Map<Switch, Known>();
  private focusLost: Known = { at: 0, isSo: false };
  private windows: DrillWindows['windows'] = [];
  private countId: string | null = null;
  private goneHostMs: Ms | null = null;
  private zero: DrillZero | null;
  private hasFocus: boolean;
  private lastFocusId: string | null = null;
  private version = 0;
  private wasShared = false;
  private measuredMs: Ms | null = null;
  private stopListening = (): void => undefined;
  private isOver = false;

  constructor(parts: AttendanceParts) {
    this.parts = parts;
    this.zero = parts.zero;
    this.hasFocus = parts.hasFocus;
  }

  /** Says that this window is here, once its clock is measured; never rejects. */
  async start(): Promise<void> {
    const { bridge, drillId, windowId } = this.parts;
    this.stopListening = bridge.onWindowsChanged((news) => {
      if (news.drillId !== drillId || this.isOver) return;
      this.hear(news);
      // The host thought this window gone: its connection was.
      if (!news.windows.some((one) => one.windowId === windowId)) void this.say(null);
    });
    await this.measure();
  }

  stop(): void {
    this.isOver = true;
    this.stopListening();
    this.listeners.clear();
  }

  /** Hears whenever something of what is known has changed. */
  listen(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Another window attends this drill, or has done. */
  get isShared(): boolean {
    return this.wasShared;
  }

  get isAlone(): boolean {
    return this.others.length === 0;
  }

  get haveOthersFocus(): boolean {
    return this.others.some((one) => one.hasFocus);
  }

  /** This window has the count: exactly one has. */
  get hasCount(): boolean {
    if (this.countId === null) return this.parts.zero === null;
    return this.countId === this.parts.windowId;
  }

  /** When the window that had the count before was gone, in drill ms; null: not known. */
  get countGoneMs(): Ms | null {
    const { goneHostMs, zero } = this;
    return goneHostMs === null || zero === null ? null : Math.max(0, goneHostMs - zero.hostMs);
  }

  /** False while nothing is known of the host's clock: without it no time of this window is worth writing. */
  get isMeasured(): boolean {
    return this.offset.at(this.now()) !== null;
  }

  /** A pad shows itself to every window: only the one that has the keyboard, or had it last, tells what it does. */
  get tellsPads(): boolean {
    if (!this.wasShared || this.hasFocus) return true;
    if (this.haveOthersFocus) return false;
    const isLastThere = this.windows.some((one) => one.windowId === this.lastFocusId);
    return isLastThere ? this.lastFocusId === this.parts.windowId : this.hasCount;
  }

  isDown(name: Switch): boolean {
    return this.downs.get(name)?.isSo === true;
  }

  /** The journal's last word on the keyboard is that no window has it. */
  get isFocusLost(): boolean {
    return this.focusLost.isSo;
  }

  /** An edge that this window made or heard of; `at` in drill ms. */
  noteEdge({ switch: name, down, at }: Pick<EdgeLine, 'switch' | 'down' | 'at'>): void {
    if (at < (this.downs.get(name)?.at ?? 0)) return;
    this.downs.set(name, { at, isSo: down });
    this.tell();
  }

  /** This window has just written that no window has the keyboard, or that one has it again. */
  noteFocus(isLost: boolean, at: Ms): void {
    this.focusLost = { at: Math.max(at, this.focusLost.at), isSo: isLost };
  }

  /** A line that is on the disk, whichever window made it. */
  hearLine(line: BodyLine): void {
    if (line.kind === 'edge') this.noteEdge(line);
    const isFocus = line.kind === 'device' && (line.what === 'focus-lost' || line.what === 'focus-back');
    if (!isFocus || line.at < this.focusLost.at) return;
    this.noteFocus(line.what === 'focus-lost', line.at);
    this.tell();
  }

  /** Page time. */
  now(): Ms {
    return this.parts.clock.pageNow();
  }

  wake(afterMs: Ms, then: () => void): () => void {
    return this.parts.wake(afterMs, then);
  }

  sayFocus(hasFocus: boolean): void {
    if (hasFocus === this.hasFocus) return;
    this.hasFocus = hasFocus;
    if (hasFocus) this.lastFocusId = this.parts.windowId;
    void this.say(null);
  }

  /** Time has passed: the clocks are measured again when it is time. */
  tick(): void {
    const nowMs = this.parts.clock.pageNow();
    if (this.measuredMs !== null && nowMs - this.measuredMs >= MEASURE_EVERY_MS) void this.measure();
  }

  private get others(): DrillWindows['windows'] {
    return this.windows.filter((one) => one.windowId !== this.parts.windowId);
  }

  private async measure(): Promise<void> {
    const { bridge, clock } = this.parts;
    this.measuredMs = clock.pageNow();
    for (let ping = 0; ping < PINGS && !this.isOver; ping += 1) {
      const sentMs = clock.pageNow();
      const answer = await bridge.pingClock();
      if (answer.ok) this.offset.take(sentMs, answer.value.hostMs, clock.pageNow());
    }
    this.follow();
    const offset = this.offset.at(clock.pageNow());
    const isOpener = this.parts.zero === null;
    await this.say(
      isOpener && offset !== null
        ? { hostMs: clock.openedAtPageMs + offset.offsetMs, errorMs: offset.errorMs }
        : null,
    );
  }

  /** In a window that did not open the drill: its clock follows the host's. */
  private follow(): void {
    const { clock } = this.parts;
    const offset = this.offset.at(clock.pageNow());
    if (this.parts.zero === null || this.zero === null || offset === null) return;
    clock.moveZero(this.zero.hostMs - offset.offsetMs);
  }

  private async say(zero: DrillZero | null): Promise<void> {
    if (this.isOver) return;
    const { bridge, drillId, windowId, role } = this.parts;
    const attendance: Attendance = { drillId, windowId, role, hasFocus: this.hasFocus, zero };
    const answer = await bridge.attendDrill(attendance);
    if (answer.ok && !this.isOver) this.hear(answer.value);
  }

  private hear({ version, windows, countId, countGoneMs, zero }: DrillWindows): void {
    // An answer may be overtaken by news.
    if (version < this.version) return;
    this.version = version;
    this.windows = windows;
    this.countId = countId;
    this.goneHostMs = countGoneMs;
    this.wasShared ||= windows.length > 1;
    const focused = windows.find((one) => one.hasFocus);
    if (focused !== undefined && !this.hasFocus) this.lastFocusId = focused.windowId;
    this.zero = zero;
    this.follow();
    this.tell();
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}
