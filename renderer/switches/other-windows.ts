import type { Switch } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';

/** What this window's switches must know of the station's other windows, and tell them. */
export type OtherWindows = {
  /** Another window captures in this drill, or has done. */
  readonly isShared: boolean;
  /** No other window is there now. */
  readonly isAlone: boolean;
  readonly haveOthersFocus: boolean;
  /** The journal's last word is that no window has the keyboard. */
  readonly isFocusLost: boolean;
  /** Of several windows that see a pad, this one tells what it does. */
  readonly tellsPads: boolean;
  /** Is a switch down, by the latest edge of any window? */
  isDown(name: Switch): boolean;
  /** This window has got the keyboard, or lost it. */
  sayFocus(hasFocus: boolean): void;
  /** The page's clock. */
  now(): Ms;
  /** Calls once after a while; returns what takes that back. */
  wake(afterMs: Ms, then: () => void): () => void;
  /** Hears of changes; returns what stops that. */
  listen(listener: () => void): () => void;
};

/**
 * A focus that goes from one window to another is for a moment nowhere, as far as either knows: so long a window waits
 * before it says that the keyboard is lost (tool default). What it then writes has the time at which the focus went.
 */
export const FOCUS_GRACE_MS: Ms = 250;

/** What another window saw is on the disk and heard of here within so long (tool default). */
export const HEARD_WITHIN_MS: Ms = 500;

/** A station of one window. */
export const NO_OTHER_WINDOWS: OtherWindows = {
  isShared: false,
  isAlone: true,
  haveOthersFocus: false,
  isFocusLost: false,
  tellsPads: true,
  isDown: () => false,
  sayFocus: () => undefined,
  now: () => 0,
  wake: () => () => undefined,
  listen: () => () => undefined,
};
