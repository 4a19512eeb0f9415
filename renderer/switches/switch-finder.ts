import type { KeyBinding, PadBinding, SwitchBinding } from '../../electron/contract.ts';
import { type KeyRefusal, refusalOf } from '../adapters/key-uses.ts';
import { axisTravel, buttonTravel, isDownAt, isSameControl, type Pad, type Pads } from './pad-controls.ts';
import type { StartPolling } from './poll-loop.ts';

export type Refusal = KeyRefusal | 'taken';
export type FinderParts = {
  window: Pick<Window, 'addEventListener' | 'removeEventListener'>;
  readPads: () => Pads;
  startPolling: StartPolling;
};
export type FinderListener = {
  onFound: (binding: SwitchBinding) => void;
  onRefused: (why: Refusal) => void;
  /** Escape, or Tab, which also goes on to the next control. */
  onGivenUp: () => void;
};

/**
 * Waits for the next thing that is pressed, key or pad, and tells of it. What is down already has to come up first.
 * `other` is the other switch's binding, if there is one yet: the same control twice is refused. Returns what stops the waiting.
 */
export function findSwitch(
  parts: FinderParts,
  other: SwitchBinding | null,
  listener: FinderListener,
): () => void {
  const tell = (found: SwitchBinding) => {
    if (other !== null && isSameSwitch(found, other)) listener.onRefused('taken');
    else listener.onFound(found);
  };
  const stopKeys = waitForKey(parts.window, tell, listener);
  const stopPads = waitForPad(parts, tell);
  return () => {
    stopKeys();
    stopPads();
  };
}

/** Do two bindings name the same key, or the same control of the same pad? */
export function isSameSwitch(one: SwitchBinding, other: SwitchBinding): boolean {
  if (one.kind === 'key' || other.kind === 'key') {
    return one.kind === 'key' && other.kind === 'key' && one.code === other.code;
  }
  return one.pad === other.pad && one.index === other.index && isSameControl(one, other);
}

function waitForKey(
  window: FinderParts['window'],
  tell: (found: KeyBinding) => void,
  listener: FinderListener,
): () => void {
  const down = (event: KeyboardEvent) => {
    if (event.code === 'Tab') return listener.onGivenUp();
    event.preventDefault();
    event.stopPropagation();
    if (event.repeat) return;
    if (event.code === 'Escape') return listener.onGivenUp();
    const refusal = refusalOf(event.code);
    if (refusal !== null) listener.onRefused(refusal);
    else tell({ kind: 'key', code: event.code });
  };
  window.addEventListener('keydown', down, { capture: true });
  return () => window.removeEventListener('keydown', down, { capture: true });
}

/** What a pad looked like when it was first seen, and what of it is down. */
type Known = { rests: readonly (-1 | 0 | 1)[]; downButtons: Set<number>; downAxes: Set<number> };

function waitForPad({ readPads, startPolling }: FinderParts, tell: (found: PadBinding) => void): () => void {
  const known = new Map<number, Known>();
  let isFirstLook = true;
  const look = () => {
    for (const pad of readPads()) {
      if (pad === null) continue;
      const before = known.get(pad.index) ?? meet(pad, isFirstLook);
      known.set(pad.index, before);
      const found = newlyDown(pad, before);
      if (found !== null) tell(found);
    }
    isFirstLook = false;
  };
  look();
  return startPolling(look);
}

/** A pad that shows itself during the waiting does so by its first press, which is not held from before. */
function meet(pad: Pad, isFirstLook: boolean): Known {
  const downButtons = new Set<number>();
  if (isFirstLook) {
    for (let button = 0; button < pad.buttons.length; button += 1)
      if (isDownAt(buttonTravel(pad, button), false)) downButtons.add(button);
  }
  return { rests: pad.axes.map(restOf), downButtons, downAxes: new Set() };
}

/** An axis rests in the middle or at an end. */
function restOf(value: number): -1 | 0 | 1 {
  if (value > 0.75) return 1;
  return value < -0.75 ? -1 : 0;
}

function newlyDown(pad: Pad, known: Known): PadBinding | null {
  let found: PadBinding | null = null;
  for (let button = 0; button < pad.buttons.length; button += 1) {
    if (!turnsDown(known.downButtons, button, buttonTravel(pad, button))) continue;
    found ??= { kind: 'pad-button', pad: pad.id, index: pad.index, button };
  }
  for (const [axis, rest] of known.rests.entries()) {
    const value = pad.axes[axis] ?? rest;
    const towards = value >= rest ? 1 : -1;
    if (!turnsDown(known.downAxes, axis, axisTravel(value, { rest, towards }))) continue;
    found ??= { kind: 'pad-axis', pad: pad.id, index: pad.index, axis, rest, towards };
  }
  return found;
}

function turnsDown(down: Set<number>, which: number, travel: number): boolean {
  const wasDown = down.has(which);
  const isDown = isDownAt(travel, wasDown);
  if (isDown) down.add(which);
  else down.delete(which);
  return isDown && !wasDown;
}
