import type { KeyBinding, PadBinding, SwitchBinding } from '../../electron/contract.ts';
import type { InstructorKeys } from '../../machines/instructor-keys.ts';
import type { Ms } from '../../machines/units.ts';
import { type KeyRefusal, refusalOf } from '../adapters/key-uses.ts';
import { listenForOneKey } from '../adapters/one-key.ts';
import { type AxisWatch, restOf, watchForRest, watchFromRest } from './axis-watch.ts';
import { buttonTravel, isDownAt, isSameControl, type Pad, type Pads } from './pad-controls.ts';
import type { StartPolling } from './poll-loop.ts';

/** `rest-unknown`: an axis moved, but whether it was pressed or let go is not known: once more. */
export type Refusal = KeyRefusal | 'taken' | 'rest-unknown';
export type FinderParts = {
  window: Pick<Window, 'addEventListener' | 'removeEventListener'>;
  readPads: () => Pads;
  startPolling: StartPolling;
  /** The page's clock, in ms. */
  now: () => Ms;
  /** Never a learner's switch. */
  instructorKeys: InstructorKeys;
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
  const stopKeys = waitForKey(parts, tell, listener);
  const stopPads = waitForPad(parts, other, tell, listener);
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
  { window, instructorKeys }: FinderParts,
  tell: (found: KeyBinding) => void,
  { onRefused, onGivenUp }: FinderListener,
): () => void {
  return listenForOneKey(window, {
    onKey: (code) => {
      const refusal = refusalOf(code, instructorKeys);
      if (refusal !== null) onRefused(refusal);
      else tell({ kind: 'key', code });
    },
    onGivenUp,
  });
}

/** What of a pad is down, and how its axes are watched. */
type Known = { downButtons: Set<number>; axes: readonly AxisWatch[] };

function waitForPad(
  { readPads, startPolling, now }: FinderParts,
  other: SwitchBinding | null,
  tell: (found: PadBinding) => void,
  { onRefused }: FinderListener,
): () => void {
  const known = new Map<number, Known>();
  const meet = (pad: Pad, isFirstLook: boolean) =>
    isFirstLook ? meetFirst(pad, other) : meetLater(pad, now());
  let isFirstLook = true;
  const look = () => {
    for (const pad of readPads()) {
      if (pad === null) continue;
      const before = known.get(pad.index) ?? meet(pad, isFirstLook);
      known.set(pad.index, before);
      const found = newlyDown(pad, before, now());
      if (found === 'rest-unknown') onRefused(found);
      else if (found !== null) tell(found);
    }
    isFirstLook = false;
  };
  look();
  return startPolling(look);
}

/** What is down at the first look is held from before. The other switch may be held still: its rest is known. */
function meetFirst(pad: Pad, other: SwitchBinding | null): Known {
  const downButtons = new Set<number>();
  for (let button = 0; button < pad.buttons.length; button += 1)
    if (isDownAt(buttonTravel(pad, button), false)) downButtons.add(button);
  const isOther = (axis: number) =>
    other?.kind === 'pad-axis' && other.pad === pad.id && other.index === pad.index && other.axis === axis;
  const axes = pad.axes.map((value, axis) =>
    watchFromRest(isOther(axis) && other?.kind === 'pad-axis' ? other.rest : restOf(value), value),
  );
  return { downButtons, axes };
}

/**
 * A pad that shows itself during the waiting may do so by its first press: a button that is down then is pressed, not held from
 * before; where an axis rests is not known.
 */
function meetLater(pad: Pad, nowMs: Ms): Known {
  return { downButtons: new Set(), axes: pad.axes.map((value) => watchForRest(value, nowMs)) };
}

function newlyDown(pad: Pad, known: Known, nowMs: Ms): PadBinding | 'rest-unknown' | null {
  let found: PadBinding | null = null;
  let isRestUnknown = false;
  for (let button = 0; button < pad.buttons.length; button += 1) {
    if (!turnsDown(known.downButtons, button, buttonTravel(pad, button))) continue;
    found ??= { kind: 'pad-button', pad: pad.id, index: pad.index, button };
  }
  for (const [axis, watch] of known.axes.entries()) {
    const value = pad.axes[axis];
    const press = value === undefined ? null : watch(value, nowMs);
    if (press === 'rest-unknown') isRestUnknown = true;
    else if (press !== null) found ??= { kind: 'pad-axis', pad: pad.id, index: pad.index, axis, ...press };
  }
  return found ?? (isRestUnknown ? 'rest-unknown' : null);
}

function turnsDown(down: Set<number>, which: number, travel: number): boolean {
  const wasDown = down.has(which);
  const isDown = isDownAt(travel, wasDown);
  if (isDown) down.add(which);
  else down.delete(which);
  return isDown && !wasDown;
}
