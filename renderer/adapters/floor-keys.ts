import { type InstructorKey, type InstructorKeys, KEYS_AS_AT_FIRST } from '../../machines/instructor-keys.ts';
import type { Ms } from '../../machines/units.ts';
import { instructorKeyOf, type TickKey, tickKeyOf } from './key-uses.ts';

export type FloorKeysListener = {
  onKey: (key: InstructorKey, timeStampMs: Ms) => void;
  /** What the browser would do with it, to reload the page with F5, is held back. */
  onTick?: (key: TickKey, timeStampMs: Ms) => void;
  onEnter: (timeStampMs: Ms) => void;
  /** A number is being entered: digits are digits wherever the calls are, and Enter is its, also where a button has the focus. */
  isEntering?: boolean;
  onEscape?: () => void;
};

/** The instructor's keys while the Floor is shown. A held key acts once. Returns what stops the listening. */
export function listenForInstructor(
  target: Pick<Window, 'addEventListener' | 'removeEventListener'>,
  chosen: InstructorKeys,
  listener: FloorKeysListener,
): () => void {
  const down = (event: KeyboardEvent) => {
    const tick = listener.onTick === undefined ? null : tickKeyOf(event.code);
    if (tick !== null && !event.ctrlKey && !event.altKey && !event.metaKey) event.preventDefault();
    if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const key = instructorKeyOf(event.code, listener.isEntering === true ? KEYS_AS_AT_FIRST : chosen);
    if (key !== null) {
      event.preventDefault();
      listener.onKey(key, event.timeStamp);
    } else if (tick !== null) {
      listener.onTick?.(tick, event.timeStamp);
    } else if (event.code === 'Enter' || event.code === 'NumpadEnter') {
      if (listener.isEntering) event.preventDefault();
      else if (isOnControl(event)) return;
      listener.onEnter(event.timeStamp);
    } else if (event.code === 'Escape') {
      listener.onEscape?.();
    }
  };
  target.addEventListener('keydown', down);
  return () => target.removeEventListener('keydown', down);
}

/** F2 opens the station's other window, on every screen. Returns what stops the listening. */
export function listenForOtherWindow(
  target: Pick<Window, 'addEventListener' | 'removeEventListener'>,
  onOpen: () => void,
): () => void {
  const down = (event: KeyboardEvent) => {
    if (event.code !== 'F2' || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    onOpen();
  };
  target.addEventListener('keydown', down);
  return () => target.removeEventListener('keydown', down);
}

/** A focused button or link takes Enter for itself. */
function isOnControl({ target }: KeyboardEvent): boolean {
  return target instanceof Element && target.closest('button, a, summary, input, select') !== null;
}
