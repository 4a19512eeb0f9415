import type { DrillSetup, StationSettings, SwitchBinding } from '../../electron/contract.ts';
import type { InstructorKeys } from '../../machines/instructor-keys.ts';
import { makeSwitches } from './make-switches.ts';
import type { OtherWindows } from './other-windows.ts';
import { findPad, type Pads, readPads } from './pad-controls.ts';
import { pollFast } from './poll-loop.ts';
import { type FinderListener, findSwitch } from './switch-finder.ts';
import type { SwitchSource } from './switch-source.ts';
import { type SwitchTimes, switchTimesOf } from './switch-times.ts';

/** All that screens ask of switches: to find one by pressing it, to listen to two, and what is known of one. */
export class SwitchDesk {
  private readonly window: Window;

  constructor(window: Window) {
    this.window = window;
  }

  /** Waits for a switch to be pressed; returns what stops the waiting. */
  find(other: SwitchBinding | null, instructorKeys: InstructorKeys, listener: FinderListener): () => void {
    const { window } = this;
    return findSwitch(
      {
        window,
        readPads: () => this.readPads(),
        startPolling: pollFast(window),
        now: () => window.performance.now(),
        instructorKeys,
      },
      other,
      listener,
    );
  }

  /** The two switches as one source. */
  make(
    settings: Pick<StationSettings, 'switches' | 'instructorKeys'>,
    setup: Pick<DrillSetup, 'binding' | 'bounceMs' | 'sources'>,
    others?: OtherWindows,
  ): SwitchSource {
    return makeSwitches(this.window, settings, setup, others);
  }

  timesOf(binding: SwitchBinding): SwitchTimes {
    return switchTimesOf(binding, this.readPads(), this.window.performance.now());
  }

  /** Is its device there? Nobody can tell of a keyboard; a pad shows itself only once it was pressed. */
  isPresent(binding: SwitchBinding, other: SwitchBinding): boolean {
    const others = other.kind === 'key' ? [] : [other];
    return binding.kind === 'key' || findPad(this.readPads(), binding, others) !== null;
  }

  /** Hears of pads plugged in or out; returns what stops the listening. */
  onPadsChanged(listener: () => void): () => void {
    const { window } = this;
    const events = ['gamepadconnected', 'gamepaddisconnected'] as const;
    for (const name of events) window.addEventListener(name, listener);
    return () => {
      for (const name of events) window.removeEventListener(name, listener);
    };
  }

  private readPads(): Pads {
    return readPads(this.window);
  }
}
