import type { Switch } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';

/** A switch going down or up, at its page time (the clock of `performance.now`, in ms). `lost`: nobody saw the release. */
export type SwitchEdge = { switch: Switch; down: boolean; lost?: true; timeStampMs: Ms };
/** What a switch's device did that is no press. */
export type DeviceChange = 'unplugged' | 'plugged-in';

export type SwitchListener = {
  onEdge: (edge: SwitchEdge) => void;
  /** A held switch that sends itself again; no press. */
  onRepeat?: (name: Switch, timeStampMs: Ms) => void;
  /**
   * How a switch stands where no edge tells it: at the first look, after a lost release, or when one that was held from before
   * is let go; no press. Null: it cannot be seen any more.
   */
  onLevel?: (name: Switch, isDown: boolean | null, timeStampMs: Ms) => void;
  /** A key or a pad's button that is nobody's. */
  onThirdKey: (code: string, timeStampMs: Ms) => void;
  /** Without the focus no press of a key is seen. */
  onFocus: (hasFocus: boolean, timeStampMs: Ms) => void;
  onDevice: (what: DeviceChange, name: Switch, timeStampMs: Ms) => void;
};

/** Where presses come from: the one interface of every kind of switch. Times never go back. */
export type SwitchSource = {
  /** Returns what stops the listening. */
  listen(listener: SwitchListener): () => void;
};
