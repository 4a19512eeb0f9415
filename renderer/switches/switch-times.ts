import type { DrillSetup, SwitchBinding } from '../../electron/contract.ts';
import type { Ms } from '../../machines/units.ts';
import { findPad, type Pads } from './pad-controls.ts';
import { POLL_MS } from './poll-loop.ts';

/** How a switch's times are made, and the step they come in: what the open line's `sources` holds. */
export type SwitchTimes = DrillSetup['sources'][string];

export const GAMEPAD_STAMPED = 'gamepad-stamped';
const GAMEPAD_POLLED = 'gamepad-polled';
/** A keyboard's events come in steps of 1 ms at the best (measured under X11; other systems are no finer). */
const KEYBOARD_STEP_MS: Ms = 1;
/**
 * Chromium samples pads every 4 ms (`kPollingIntervalMilliseconds` in its device/gamepad/gamepad_provider.cc). The pad's
 * own USB poll may be slower: the switch check finds that.
 */
const BROWSER_SAMPLE_MS: Ms = 4;

/**
 * `keyboard`: the operating system's time of the event. `gamepad-stamped`: the browser's time of the sample in which a pad's
 * state changed. `gamepad-polled`: the time of the poll that saw it, for pads whose samples have no time to be believed.
 */
export function switchTimesOf(binding: SwitchBinding, pads: Pads, nowMs: Ms): SwitchTimes {
  if (binding.kind === 'key') return { kind: 'keyboard', stepMs: KEYBOARD_STEP_MS };
  const pad = findPad(pads, binding);
  const isStamped = pad !== null && pad.timestamp > 0 && pad.timestamp <= nowMs;
  return isStamped
    ? { kind: GAMEPAD_STAMPED, stepMs: BROWSER_SAMPLE_MS }
    : { kind: GAMEPAD_POLLED, stepMs: BROWSER_SAMPLE_MS + POLL_MS };
}
