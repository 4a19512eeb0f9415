import type { Acknowledgement, LinesWritten, OpenedDrill, Result } from '../../electron/contract.ts';
import { BothHeld, type BothHeldNews } from '../../machines/both-held.ts';
import { DrillDriver } from '../../machines/drill-driver.ts';
import { type InstructorKeys, KEYS_AS_AT_FIRST } from '../../machines/instructor-keys.ts';
import type { BodyLine, CallLine, CallName, DeviceLine, TickLine } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { type SwitchDoubt, SwitchWatch } from '../../machines/switch-watch.ts';
import { metOf, type TickItem, type TickSeen } from '../../machines/ticks.ts';
import type { Ms } from '../../machines/units.ts';
import type { Language } from '../../machines/words/languages.ts';
import type { DrillClock } from '../adapters/drill-clock.ts';
import { JournalSender, type SenderTrouble } from '../adapters/journal-sender.ts';
import type { SwitchEdge } from '../switches/switch-source.ts';
import { CountFollower } from './count-follower.ts';
import type { CountEntry } from './count-keeper.ts';
import { LineIntake } from './line-intake.ts';
import { PlanKeeper } from './plan-keeper.ts';
import type { SessionParts, SessionStatus } from './session-parts.ts';

type WithoutTime<C> = C extends CallLine ? Omit<C, 'kind' | 'at'> : never;
/** A call before it has its time. */
export type CallRequest = WithoutTime<CallLine>;

/** A line that waits longer than this is shown as being saved (our choice: shorter would flicker with every press). */
const SAVING_AFTER_MS = 1000;

/**
 * One drill in this window: presses and calls go out as lines, and what comes back from the disk is folded.
 * Screens read `driver` and `status` and are told when either has changed.
 */
export class DrillSession {
  readonly opened: OpenedDrill;
  readonly clock: DrillClock;
  readonly driver: DrillDriver;
  readonly isBegunByHolding: boolean;
  readonly instructorKeys: InstructorKeys;
  readonly language: Language;
  /** The plan the drill was opened with; null: none. */
  readonly plan: PlanKeeper | null;
  status: SessionStatus = {
    trouble: null,
    refusedLines: 0,
    isSaving: false,
    hasFocus: true,
    held: new Set(),
    isLetGoAwaited: false,
    lastSaid: null,
  };
  private hasCloseLine = false;
  /** Grows with every change. */
  version = 0;
  /** Grows with every call and every line that is no edge: what the report must follow at once. */
  callCount = 0;
  private readonly parts: SessionParts;
  private readonly sender: JournalSender;
  private readonly bothHeld: BothHeld<SwitchEdge>;
  private readonly watch: SwitchWatch;
  private readonly count: CountFollower;
  private readonly intake: LineIntake;
  private readonly listeners = new Set<() => void>();
  private readonly pending = new Set<CallName>();
  private readonly pendingTicks = new Map<string, TickSeen>();
  private unsavedSinceMs: Ms | null = null;
  private isClosing = false;
  private stops: (() => void)[] = [];

  constructor(parts: SessionParts) {
    this.parts = parts;
    this.opened = parts.opened;
    this.clock = parts.clock;
    this.driver = new DrillDriver(parts.opened.open);
    this.isBegunByHolding = parts.isBegunByHolding === true;
    this.instructorKeys = parts.instructorKeys ?? KEYS_AS_AT_FIRST;
    this.language = parts.language ?? 'english';
    this.bothHeld = new BothHeld(this.isBegunByHolding);
    this.watch = new SwitchWatch(parts.opened.open.binding);
    this.sender = new JournalSender({
      append: (batch) => parts.bridge.appendLines(batch),
      drillId: parts.opened.drillId,
      windowId: parts.windowId,
      wait: parts.wait,
      onTrouble: (trouble) => this.hearTrouble(trouble),
    });
    this.plan = this.keepPlan();
    const write = (entry: CountEntry) => this.noteCount(entry);
    const keeper = parts.makeCount({
      write,
      note: (what) => this.writeDevice(what, this.clock.atLastLine()),
    });
    const isOpener = parts.linesSoFar === undefined;
    const goneMs = () => parts.attendance?.countGoneMs ?? this.clock.now();
    this.count = new CountFollower({ driver: this.driver, keeper, write, goneMs, isOpener });
    const before = parts.linesSoFar ?? [];
    const throughLine = before.at(-1)?.number ?? 1;
    this.intake = new LineIntake(parts.bridge, parts.opened.drillId, throughLine, (lines) =>
      this.hearLines(lines),
    );
    for (const one of before) {
      this.driver.take([one]);
      this.plan?.take(one.line);
      this.watch.take(one.line, this.driver.runningBout);
      this.follow(one.line);
    }
  }

  start(): void {
    const { bridge, switches } = this.parts;
    const { attendance } = this.parts;
    this.stops = [
      bridge.onLinesWritten(this.hearWritten),
      attendance?.listen(() => this.followWindows()) ?? (() => undefined),
      () => attendance?.stop(),
      switches.listen({
        onEdge: (edge) => this.takeEdge(edge),
        onThirdKey: (code, timeStampMs) => this.noteDevice('third-key', timeStampMs, code),
        onFocus: (hasFocus, timeStampMs) => {
          attendance?.noteFocus(!hasFocus, this.clock.fromPage(timeStampMs));
          this.noteDevice(hasFocus ? 'focus-back' : 'focus-lost', timeStampMs);
          this.change({ hasFocus });
        },
        onDevice: (what, name, timeStampMs) => this.noteDevice(what, timeStampMs, name),
      }),
    ];
    this.count.follow(this.hasCount);
  }

  /** Lines that are on the disk, from whichever window; what was heard before is passed over. */
  readonly hearWritten = (written: LinesWritten): void => this.intake.hear(written);

  stop(): void {
    this.count.stop();
    for (const stop of this.stops.splice(0)) stop();
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** May this be called now? Not while the same call is on its way to the disk. */
  canCall(request: CallRequest): boolean {
    if (this.isClosing || this.pending.has(request.call)) return false;
    return this.driver.canCall({ kind: 'call', at: this.clock.now(), ...request } as CallLine);
  }

  /** Writes the instructor's call if it is allowed now; nothing otherwise. */
  call(request: CallRequest, timeStampMs: Ms): boolean {
    this.hearBothHeld(this.bothHeld.giveUp());
    if (!this.canCall(request)) return false;
    // Who calls does not wait for a switch that hangs.
    this.hearBothHeld(this.bothHeld.endSign());
    return this.writeCall(request, timeStampMs);
  }

  private writeCall(request: CallRequest, timeStampMs: Ms): boolean {
    if (!this.canCall(request)) return false;
    this.pending.add(request.call);
    const at = this.clock.lineAt(timeStampMs);
    void this.write({ kind: 'call', at, ...request } as CallLine).then((result) => {
      if (!result.ok && this.pending.delete(request.call)) this.tell();
    });
    this.tell();
    return true;
  }

  /** Writes what somebody saw; nothing on a rhythm rig, where there is nothing to tick. */
  tickItem(item: TickItem, seen: TickSeen, by: TickLine['by'], timeStampMs: Ms): void {
    if (this.isClosing || this.opened.open.rig === 'rhythm') return;
    this.hearBothHeld(this.bothHeld.giveUp());
    this.pendingTicks.set(item, seen);
    const at = this.clock.lineAt(timeStampMs);
    void this.write({ kind: 'tick', at, item, met: metOf(seen), by }).then((result) => {
      if (!result.ok && this.pendingTicks.delete(item)) this.tell();
    });
    this.tell();
  }

  /** What was ticked last, on the disk or on its way there; undefined: nothing in this bout. */
  readonly seenOf = (item: TickItem): TickSeen | undefined =>
    this.pendingTicks.get(item) ?? this.driver.latestTicks[item]?.seen;

  /** Ends the journal; answered when the close line is on the disk, or known never to be. */
  async close(timeStampMs: Ms): Promise<Result<Acknowledgement>> {
    this.hearBothHeld(this.bothHeld.giveUp());
    this.isClosing = true;
    const result = await this.write({ kind: 'close', at: this.clock.lineAt(timeStampMs) });
    if (!result.ok) {
      this.isClosing = false;
      this.tell();
    }
    return result;
  }

  /** Time has passed: hints end, undo runs out. */
  tick(): void {
    const nowMs = this.clock.now();
    this.driver.tick(nowMs);
    this.plan?.tick(nowMs);
    this.hearBothHeld(this.bothHeld.passTime(this.clock.pageNow()));
    this.noteDoubts(this.watch.passTime(this.clock.pageNow()));
    this.count.look();
    this.parts.attendance?.tick();
    const isSaving = this.unsavedSinceMs !== null && nowMs - this.unsavedSinceMs > SAVING_AFTER_MS;
    this.change({ isSaving });
  }

  /** The next leg of the plan, by the instructor's key. */
  callNextLeg(timeStampMs: Ms): void {
    this.plan?.next(Math.round((timeStampMs - this.clock.openedAtPageMs) * 1000) / 1000);
    this.tell();
  }

  private keepPlan(): PlanKeeper | null {
    const { plan } = this.opened.open;
    if (plan === undefined) return null;
    return new PlanKeeper({
      plan,
      driver: this.driver,
      isMadeHere: () => this.parts.isPlanRunHere === true && this.hasCount,
      call: (request, atMs) => this.call(request, atMs + this.clock.openedAtPageMs),
      write: (line, atMs) => this.writePlan(line, atMs + this.clock.openedAtPageMs),
      warn: (soon) => this.parts.onWarned?.(soon),
      isOnItsWay: (call) => this.pending.has(call),
    });
  }

  private takeEdge(edge: SwitchEdge): void {
    if (this.isClosing) return;
    this.watch.takeEdge(edge);
    const held = new Set(this.status.held);
    if (edge.down) held.add(edge.switch);
    else held.delete(edge.switch);
    this.parts.attendance?.noteEdge({ ...edge, at: this.clock.fromPage(edge.timeStampMs) });
    this.hearBothHeld(this.bothHeld.take(edge));
    this.change({ held });
  }

  private hearBothHeld(news: readonly BothHeldNews<SwitchEdge>[]): void {
    for (const one of news) {
      if (one.type === 'edge') this.writeEdge(one.edge);
      else if (one.type === 'held') this.takeSign(one.sinceMs);
      else if (this.status.isLetGoAwaited) {
        if (one.type === 'let go' && !one.isLost) this.writeCall({ call: 'begin' }, one.atMs);
        this.change({ isLetGoAwaited: false });
      }
    }
  }

  /** Finish is called as of when both went down; begin waits until both are up, so that no press is under way. */
  private takeSign(sinceMs: Ms): void {
    this.noteDevice('both-held', sinceMs);
    const isToBegin = this.canCall({ call: 'begin' });
    if (!isToBegin && !this.writeCall({ call: 'finish' }, sinceMs)) return;
    this.parts.onBothHeld?.(isToBegin ? 'begin' : 'finish');
    this.change({ isLetGoAwaited: isToBegin });
  }

  private writeEdge({ switch: name, down, lost, timeStampMs }: SwitchEdge): void {
    const at = this.clock.lineAt(timeStampMs);
    void this.write({ kind: 'edge', at, switch: name, down, ...(lost ? { lost } : {}) });
  }

  private noteDevice(what: string, timeStampMs: Ms, code?: string): void {
    this.hearBothHeld(this.bothHeld.giveUp());
    this.writeDevice(what, this.clock.lineAt(timeStampMs), code);
  }

  private noteDoubts(doubts: readonly SwitchDoubt[]): void {
    // Every window has them; one says them.
    if (!this.hasCount) return;
    for (const doubt of doubts) this.writeDevice(doubt.what, this.clock.atLastLine(), doubt.switch);
  }

  private writeDevice(what: string, at: Ms, code?: string): void {
    if (this.isClosing) return;
    void this.write({ kind: 'device', at, what, ...(code === undefined ? {} : { switch: code }) });
  }

  private async writePlan(line: Omit<DeviceLine, 'kind' | 'at'>, timeStampMs: Ms): Promise<boolean> {
    if (this.isClosing) return false;
    this.hearBothHeld(this.bothHeld.giveUp());
    const result = await this.write({ kind: 'device', at: this.clock.lineAt(timeStampMs), ...line });
    return result.ok;
  }

  private noteCount(entry: CountEntry): void {
    if (this.isClosing) return;
    void this.write({ kind: 'count', at: this.clock.atLastLine(), ...entry } as BodyLine);
  }

  private async write(line: BodyLine): Promise<Result<Acknowledgement>> {
    this.unsavedSinceMs ??= this.clock.now();
    const result = await this.sender.send(line);
    if (this.sender.unsaved === 0) this.unsavedSinceMs = null;
    return result;
  }

  private hearLines(lines: readonly NumberedLine[]): void {
    const said = lines.flatMap((one) => {
      const news = this.driver.take([one]);
      this.plan?.take(one.line);
      this.noteDoubts(this.watch.take(one.line, this.driver.runningBout));
      return news;
    });
    for (const { line } of lines) this.follow(line);
    this.plan?.callDue(this.clock.now());
    this.plan?.followWarning(this.clock.now());
    this.count.follow(this.hasCount);
    this.change({ lastSaid: said.at(-1) ?? this.status.lastSaid });
  }

  private follow(line: BodyLine): void {
    const { attendance } = this.parts;
    attendance?.hearLine(line);
    // Lines of two windows cross: the host finds the place of each, by its own time.
    if (line.kind !== 'unknown' && attendance?.isShared !== true) this.clock.notBefore(line.at);
    if (line.kind === 'call') this.pending.delete(line.call);
    if (line.kind === 'tick' && metOf(this.pendingTicks.get(line.item) ?? 'not seen') === line.met)
      this.pendingTicks.delete(line.item);
    if (line.kind !== 'edge') this.callCount += 1;
    if (line.kind === 'close') this.hasCloseLine = true;
  }

  private followWindows(): void {
    const { attendance } = this.parts;
    this.count.follow(this.hasCount);
    this.change(attendance?.isShared === true ? { hasFocus: !attendance.isFocusLost } : {});
  }

  /** Another window has closed the drill. */
  get isClosedElsewhere(): boolean {
    return this.hasCloseLine && !this.isClosing;
  }

  /** No other window attends this drill now. */
  get isAlone(): boolean {
    return this.parts.attendance?.isAlone ?? true;
  }

  private get hasCount(): boolean {
    return this.parts.attendance?.hasCount ?? true;
  }

  private hearTrouble(trouble: SenderTrouble | null): void {
    const refused = trouble?.refused.length ?? 0;
    this.change({ trouble, refusedLines: this.status.refusedLines + refused });
  }

  private change(changes: Partial<SessionStatus>): void {
    this.status = { ...this.status, ...changes };
    this.tell();
  }

  private tell(): void {
    this.version += 1;
    for (const listener of this.listeners) listener();
  }
}
