import type { Ms } from '../../machines/units.ts';
import { type InstructorKey, instructorKeyOf } from './key-uses.ts';

export type FloorKeysListener = {
  onKey: (key: InstructorKey, timeStampMs: Ms) => void;
  onEnter: (timeStampMs: Ms) => void;
};

/** The instructor's keys while the Floor is shown. A held key acts once. Returns what stops the listening. */
export function listenForInstructor(
  target: Pick<Window, 'addEventListener' | 'removeEventListener'>,
  listener: FloorKeysListener,
): () => void {
  const down = (event: KeyboardEvent) => {
    if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const key = instructorKeyOf(event.code);
    if (key !== null) {
      event.preventDefault();
      listener.onKey(key, event.timeStamp);
    } else if ((event.code === 'Enter' || event.code === 'NumpadEnter') && !isOnControl(event)) {
      listener.onEnter(event.timeStamp);
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
