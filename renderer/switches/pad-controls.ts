import type { PadBinding } from '../../electron/contract.ts';

/** What of a game pad is read: the browser's own `Gamepad` has it all. */
export type Pad = {
  readonly id: string;
  readonly index: number;
  readonly timestamp: number;
  readonly buttons: readonly { readonly pressed: boolean; readonly value: number }[];
  readonly axes: readonly number[];
};
export type Pads = readonly (Pad | null)[];

/** A control counts as down from half its travel, and as up again below a third (tool defaults: the gap is the hysteresis). */
const DOWN_FROM = 0.5;
const UP_BELOW = 1 / 3;

/** Is the control down, if it was down or up before? `travel` is 0 at rest and 1 at the end. */
export function isDownAt(travel: number, wasDown: boolean): boolean {
  return wasDown ? travel >= UP_BELOW : travel >= DOWN_FROM;
}

/** How far a control has been moved, 0 at rest to 1 at the end; 0 for one that the pad does not have. */
export function travelOf(pad: Pad, binding: PadBinding): number {
  if (binding.kind === 'pad-button') return buttonTravel(pad, binding.button);
  const value = pad.axes[binding.axis] ?? binding.rest;
  return axisTravel(value, binding);
}

/** A plain contact has only 0 and 1; a pad that tells "pressed" without a value is believed. */
export function buttonTravel(pad: Pad, button: number): number {
  const { value, pressed } = pad.buttons[button] ?? { value: 0, pressed: false };
  return value > 0 ? value : Number(pressed);
}

/** From the middle an axis has a way of 1, from an end one of 2. */
export function axisTravel(value: number, { rest, towards }: { rest: number; towards: number }): number {
  const way = rest === 0 ? 1 : 2;
  return ((value - rest) * towards) / way;
}

/**
 * The pad of a binding: the one of that name in its old place. A pad that was plugged in again may have another place, so
 * if there is one pad of that name and no more, it is that one. But not where another switch is a twin of that name: twins
 * are told apart by their places alone, so that one in another place may be either.
 */
export function findPad(pads: Pads, binding: PadBinding, others: Iterable<PadBinding> = []): Pad | null {
  const same = pads.filter((pad) => pad?.id === binding.pad);
  const usual = same.find((pad) => pad?.index === binding.index);
  if (usual !== undefined) return usual;
  const hasTwin = [...others].some(({ pad, index }) => pad === binding.pad && index !== binding.index);
  return same.length === 1 && !hasTwin ? (same[0] ?? null) : null;
}

/**
 * Do two bindings name the same control, wherever its pad is plugged in? An axis that rests in the middle is one each way, like
 * a rocker; one that rests at an end has one way.
 */
export function isSameControl(one: PadBinding, other: PadBinding): boolean {
  if (one.kind === 'pad-button') return other.kind === one.kind && other.button === one.button;
  if (other.kind !== one.kind || other.axis !== one.axis) return false;
  return other.towards === one.towards || one.rest !== 0 || other.rest !== 0;
}

/** A window without pads (an old browser, or a test's) has none plugged in. */
export function readPads({ navigator }: Window): Pads {
  return typeof navigator.getGamepads === 'function' ? navigator.getGamepads() : [];
}
