import type { Bridge, DrillSetup, OpenedDrill, Result, StationSettings } from '../../electron/contract.ts';
import { DrillClock } from '../adapters/drill-clock.ts';
import { SwitchDesk } from '../switches/switch-desk.ts';
import type { StationStart } from './app-machine.ts';
import { DrillSession } from './drill-session.ts';
import { PlanShelf } from './plan-shelf.ts';
import type { StationSound } from './station-sound.ts';

export type StationParts = {
  bridge: Bridge;
  window: Window;
  newId: () => string;
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
  session: DrillSession | null = null;
  private readonly parts: StationParts;

  constructor(parts: StationParts) {
    this.parts = parts;
    this.bridge = parts.bridge;
    this.keyLayout = parts.keyLayout;
    this.switches = new SwitchDesk(parts.window);
    this.sound = parts.sound;
    this.plans = new PlanShelf(parts.bridge);
  }

  /** Opens a drill and starts to listen; its 0 is the moment the host has answered. */
  async open(setup: DrillSetup, settings: StationSettings): Promise<Result<OpenedDrill>> {
    const { window, newId } = this.parts;
    // What was chosen is remembered even if the disk then refuses the drill; losing it is no reason to stop.
    void this.bridge.saveSettings(settings);
    const result = await this.bridge.openDrill(setup);
    if (!result.ok) return result;
    const { performance } = window;
    this.leave();
    const clock = new DrillClock(performance.now(), () => performance.now());
    this.session = new DrillSession({
      opened: result.value,
      bridge: this.bridge,
      clock,
      switches: this.switches.make(settings.switches, setup),
      windowId: newId(),
      wait: waitLonger,
      makeCount: (into) => this.sound.beginDrill(clock, settings.sound, into),
      isBegunByHolding: settings.isBegunByHolding,
      isPlanRunHere: true,
      onBothHeld: (next) => {
        if (next === 'begin') this.sound.leadIn(setup.cycleMs);
      },
    });
    this.session.start();
    return result;
  }

  leave(): void {
    this.session?.stop();
    this.sound.endDrill();
    this.session = null;
  }
}

/** What Set-up needs. A part that cannot be had is left empty, and the first reason is said. */
export async function loadStart(bridge: Bridge): Promise<StationStart> {
  const [facts, settings, entries] = await Promise.all([
    bridge.loadFacts(),
    bridge.loadSettings(),
    bridge.listDrills(),
  ]);
  const failure = [facts, settings, entries].find((result) => !result.ok);
  return {
    facts: facts.ok ? facts.value : null,
    settings: settings.ok ? settings.value : null,
    entries: entries.ok ? entries.value : [],
    problem: failure === undefined || failure.ok ? null : failure.message,
  };
}

function waitLonger(attempt: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, Math.min(5000, 250 * 2 ** Math.min(attempt, 10))));
}
