import type { Bridge, CurrentDrill, DrillSetup, OpenedDrill } from '../../electron/contract.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import type { BodyLine, Switch } from '../../machines/journal.ts';
import { LEARNERS_WORDS } from '../../machines/words/languages.ts';
import { soonSpoken } from '../../machines/words/plan-words.ts';
import { DrillClock } from '../../renderer/adapters/drill-clock.ts';
import { DrillAttendance } from '../../renderer/app/attendance.ts';
import { CountKeeper } from '../../renderer/app/count-keeper.ts';
import { DrillSession } from '../../renderer/app/drill-session.ts';
import type { SwitchListener } from '../../renderer/switches/switch-source.ts';
import { makeIds, OPENED_AT, setupOf } from './drills.ts';
import { FakeHostClock } from './fake-host-clock.ts';
import { ForgetfulDisk } from './forgetful-disk.ts';

/** A page's clock beside the host's: so many ms ahead, so much faster; and what its ways to the host take, in ms. */
export type PageFacts = { apartMs: number; ppm: number; thereMs: number; backMs: number };
export type WindowOnHost = {
  windowId: string;
  session: DrillSession;
  attendance: DrillAttendance;
  /** What this window was to say of its plan; 'no more' where what was warned of is not any more. */
  warnings: string[];
  /** A switch moves now. */
  edge(name: Switch, down: boolean): void;
  /** Now, on the page's clock. */
  pageNow(): number;
  /** From here on nothing of this window gets through, and the host hears that it is gone. */
  kill(): void;
};

/** The real host on a made-up clock and disk, and windows of the real parts around it, without pages. */
export class StationOnFakeClock {
  readonly clock = new FakeHostClock();
  readonly host = new JournalHost({
    disk: new ForgetfulDisk(),
    folder: '/journals',
    newId: makeIds(),
    now: () => new Date(OPENED_AT),
    clock: this.clock,
  });

  /** Opens a drill in a window; its 0 is now. */
  async open(windowId: string, facts: PageFacts, setup: Partial<DrillSetup> = {}): Promise<WindowOnHost> {
    const opened = await this.host.openDrill(setupOf(setup));
    if (!opened.ok) throw new Error(opened.message);
    return this.makeWindow(windowId, facts, opened.value);
  }

  /** A window that finds the drill that runs. */
  async join(windowId: string, facts: PageFacts): Promise<WindowOnHost> {
    const found = await this.host.current();
    if (!found.ok || found.value === null) throw new Error('no drill runs');
    return this.makeWindow(windowId, facts, found.value, found.value);
  }

  async lines(drillId: string): Promise<readonly BodyLine[]> {
    const read = await this.host.read(drillId);
    if (!read.ok) throw new Error(read.message);
    return read.value.lines.map(({ line }) => line);
  }

  private async makeWindow(
    windowId: string,
    facts: PageFacts,
    opened: OpenedDrill,
    found?: Pick<CurrentDrill, 'zero' | 'lines'>,
  ): Promise<WindowOnHost> {
    const pageNow = () => facts.apartMs + this.clock.now() * (1 + facts.ppm / 1e6);
    const way = { isOpen: true };
    const bridge = this.bridgeOver(facts, way);
    const clock = new DrillClock(pageNow(), pageNow);
    const attendance = new DrillAttendance({
      bridge,
      drillId: opened.drillId,
      windowId,
      role: 'instructor',
      hasFocus: false,
      clock,
      zero: found?.zero ?? null,
      wake: this.clock.wake,
    });
    const warnings: string[] = [];
    let listener: SwitchListener | null = null;
    const session = new DrillSession({
      opened,
      bridge,
      clock,
      attendance,
      windowId,
      isPlanRunHere: true,
      onWarned: (soon) => warnings.push(soonSpoken(soon, LEARNERS_WORDS.english).join(' ') || 'no more'),
      wait: () => this.wait(250),
      switches: {
        listen: (hear) => {
          listener = hear;
          return () => undefined;
        },
      },
      makeCount: (into) =>
        new CountKeeper({
          player: null,
          soundAt: () => ({ kind: 'tick', pitch: 1 }),
          now: clock.now,
          ...into,
        }),
      ...(found === undefined ? {} : { linesSoFar: found.lines }),
    });
    const starting = attendance.start();
    if (found !== undefined) await this.during(starting);
    session.start();
    return {
      windowId,
      session,
      attendance,
      warnings,
      pageNow,
      edge: (name, down) => listener?.onEdge({ switch: name, down, timeStampMs: pageNow() }),
      kill: () => {
        way.isOpen = false;
        session.stop();
        this.host.leaveWindow(windowId);
      },
    };
  }

  /** The bridge of one window, whose ways take their time, and end with it. */
  private bridgeOver({ thereMs, backMs }: PageFacts, way: { isOpen: boolean }) {
    const { host } = this;
    const over = async <T>(ask: () => Promise<T>): Promise<T> => {
      await this.wait(thereMs);
      const answer = await (way.isOpen ? ask() : new Promise<T>(() => undefined));
      await this.wait(backMs);
      return way.isOpen ? answer : await new Promise<T>(() => undefined);
    };
    const later =
      <T>(hear: (said: T) => void) =>
      (said: T) =>
        void this.wait(backMs).then(() => (way.isOpen ? hear(said) : undefined));
    return {
      appendLines: (batch) => over(() => host.append(batch)),
      readDrill: (drillId) => over(() => host.read(drillId)),
      attendDrill: (attendance) => over(() => host.attend(attendance)),
      pingClock: () => over(async () => ({ ok: true, value: host.time() }) as const),
      onLinesWritten: (listener) => host.onLinesWritten(later(listener)),
      onWindowsChanged: (listener) => host.onWindowsChanged(later(listener)),
    } satisfies Partial<Bridge>;
  }

  private wait(ms: number): Promise<void> {
    return new Promise((resolve) => this.clock.wake(ms, resolve));
  }

  /** Lets the clock run on until something has come about. */
  private async during(work: Promise<void>): Promise<void> {
    let isDone = false;
    void work.then(() => {
      isDone = true;
    });
    while (!isDone) await this.clock.runUntil(this.clock.now() + 1);
  }
}
