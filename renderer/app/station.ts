import type {
  Bridge,
  DrillSetup,
  DrillZero,
  LinesWritten,
  OpenedDrill,
  Result,
  StationSettings,
  WindowRole,
} from '../../electron/contract.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import { NO_FILTER } from '../../machines/ledger/filter.ts';
import { DrillClock } from '../adapters/drill-clock.ts';
import { openOtherWindow } from '../adapters/other-window.ts';
import { SwitchDesk } from '../switches/switch-desk.ts';
import type { StationStart } from './app-machine.ts';
import { DrillAttendance } from './attendance.ts';
import { ClassShelf } from './class-shelf.ts';
import { DrillSession } from './drill-session.ts';
import { LedgerShelf } from './ledger-shelf.ts';
import { PlanShelf } from './plan-shelf.ts';
import { startingSettings } from './set-up-form.ts';
import { StandardShelf } from './standard-shelf.ts';
import type { StationSound } from './station-sound.ts';

export type StationParts = {
  bridge: Bridge;
  window: Window;
  windowId: string;
  role: WindowRole;
  keyLayout: (code: string) => string | undefined;
  sound: StationSound;
};

/** What the app chart asks of the outside: the bridge, and the session of the drill that is on the Floor. */
export class Station {
  readonly bridge: Bridge;
  readonly keyLayout: (code: string) => string | undefined;
  readonly switches: SwitchDesk;
  readonly sound: StationSound;
  readonly plans: PlanShelf;
  readonly classes: ClassShelf;
  readonly standards: StandardShelf;
  readonly ledger: LedgerShelf;
  readonly role: WindowRole;
  session: DrillSession | null = null;
  /** The drill this window was in last: it does not go back to it by itself. */
  private leftId: string | null = null;
  private readonly parts: StationParts;

  constructor(parts: StationParts) {
    this.parts = parts;
    this.bridge = parts.bridge;
    this.keyLayout = parts.keyLayout;
    this.switches = new SwitchDesk(parts.window);
    this.sound = parts.sound;
    this.plans = new PlanShelf(parts.bridge);
    this.classes = new ClassShelf(parts.bridge);
    this.standards = new StandardShelf(parts.bridge);
    this.ledger = new LedgerShelf(parts.bridge, wakeAfter);
    this.role = parts.role;
  }

  /** The cautions have been read on this station: remembered at once. Answers with the settings as they now are. */
  noteCautionsRead(before: StationSettings | null): StationSettings {
    const { performance } = this.parts.window;
    const readAt = new Date(performance.timeOrigin + performance.now()).toISOString();
    const settings = { ...startingSettings(before), cautionsReadAt: readAt };
    void this.bridge.saveSettings(settings);
    return settings;
  }

  /** Opens a drill and starts to listen; its 0 is the moment the host has answered. */
  async open(setup: DrillSetup, settings: StationSettings): Promise<Result<OpenedDrill>> {
    // What was chosen is remembered even if the disk then refuses the drill; losing it is no reason to stop.
    void this.bridge.saveSettings(settings);
    const result = await this.bridge.openDrill(setup);
    if (!result.ok) return result;
    this.leave();
    const clock = this.makeClock();
    const attendance = this.attend(result.value.drillId, clock, null);
    this.begin({ opened: result.value, settings, clock, attendance });
    void attendance.start();
    return result;
  }

  /** Goes to the drill that runs on this station, if there is one; false when there is none. */
  async join(): Promise<Result<boolean>> {
    const missed: LinesWritten[] = [];
    const stop = this.bridge.onLinesWritten((written) => missed.push(written));
    try {
      const [found, settings] = await Promise.all([
        this.bridge.findCurrentDrill(),
        this.bridge.loadSettings(),
      ]);
      if (!found.ok) return found;
      if (!settings.ok) return settings;
      if (found.value === null || settings.value === null) return { ok: true, value: false };
      const { lines, zero, ...opened } = found.value;
      this.leave();
      const clock = this.makeClock();
      const attendance = this.attend(opened.drillId, clock, zero);
      await attendance.start();
      if (!attendance.isMeasured) {
        attendance.stop();
        return { ok: false, code: 'internal', message: 'the station does not answer' };
      }
      this.begin({ opened, settings: settings.value, clock, attendance, linesSoFar: lines });
      for (const written of missed) this.session?.hearWritten(written);
      return { ok: true, value: true };
    } finally {
      stop();
    }
  }

  /** Hears that a drill has been begun in another window; returns its unsubscribe function. */
  onDrillBegun(listener: () => void): () => void {
    return this.bridge.onWindowsChanged(({ drillId, windows }) => {
      if (windows.length > 0 && drillId !== this.leftId) listener();
    });
  }

  /** Opens the other one of the station's two windows. */
  readonly openOther = (): void => {
    // With both there, a third would only be in the way.
    if (this.session?.isAlone === false) return;
    const other = this.role === 'learners' ? 'instructor' : 'learners';
    void openOtherWindow(this.parts.window, this.bridge, other);
  };

  leave(): void {
    this.leftId = this.session?.opened.drillId ?? this.leftId;
    this.session?.stop();
    this.sound.endDrill();
    this.session = null;
  }

  private makeClock(): DrillClock {
    const { performance } = this.parts.window;
    return new DrillClock(performance.now(), () => performance.now());
  }

  private attend(drillId: string, clock: DrillClock, zero: DrillZero | null): DrillAttendance {
    const { window, windowId } = this.parts;
    return new DrillAttendance({
      bridge: this.bridge,
      drillId,
      windowId,
      role: this.role,
      hasFocus: window.document.hasFocus(),
      clock,
      zero,
      wake: wakeAfter,
    });
  }

  private begin(drill: {
    opened: OpenedDrill;
    settings: StationSettings;
    clock: DrillClock;
    attendance: DrillAttendance;
    linesSoFar?: readonly NumberedLine[];
  }): void {
    const { settings, ...parts } = drill;
    const { clock, attendance } = drill;
    const { open } = drill.opened;
    this.session = new DrillSession({
      ...parts,
      bridge: this.bridge,
      switches: this.switches.make(settings, open, attendance),
      windowId: this.parts.windowId,
      wait: waitLonger,
      makeCount: (into) => this.sound.beginDrill(clock, settings.sound, into, settings.language),
      isBegunByHolding: settings.isBegunByHolding,
      instructorKeys: settings.instructorKeys,
      language: settings.language,
      isPlanRunHere: true,
      onWarned: (soon) => this.sound.warn(soon),
      onBothHeld: (next) => {
        if (next === 'begin' && attendance.hasCount) this.sound.leadIn(open.cycleMs);
      },
    });
    this.session.start();
  }
}

/** A short list on Set-up: looking back over all of them is the Ledger's work. */
const EARLIER_SHOWN = 5;

/** What Set-up needs. A part that cannot be had is left empty, and the first reason is said. */
export async function loadStart(bridge: Bridge): Promise<StationStart> {
  const [facts, settings, entries] = await Promise.all([
    bridge.loadFacts(),
    bridge.loadSettings(),
    bridge.listLedger({ filter: NO_FILTER, from: 0, count: EARLIER_SHOWN }),
  ]);
  const failure = [facts, settings, entries].find((result) => !result.ok);
  return {
    facts: facts.ok ? facts.value : null,
    settings: settings.ok ? settings.value : null,
    entries: entries.ok ? entries.value.entries : [],
    problem: failure === undefined || failure.ok ? null : failure.message,
  };
}

function wakeAfter(afterMs: number, then: () => void): () => void {
  const timer = setTimeout(then, afterMs);
  return () => clearTimeout(timer);
}

function waitLonger(attempt: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, Math.min(5000, 250 * 2 ** Math.min(attempt, 10))));
}
