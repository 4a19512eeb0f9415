export type OneKeyListener = {
  onKey: (code: string) => void;
  /** Escape, or Tab, which also goes on to the next control. */
  onGivenUp: () => void;
};

/** Hears keys, by physical code, before anything else in the window does. Returns what stops the hearing. */
export function listenForOneKey(
  window: Pick<Window, 'addEventListener' | 'removeEventListener'>,
  listener: OneKeyListener,
): () => void {
  const down = (event: KeyboardEvent) => {
    if (event.code === 'Tab') return listener.onGivenUp();
    event.preventDefault();
    // Two that wait at once never get the same press.
    event.stopImmediatePropagation();
    if (event.repeat) return;
    if (event.code === 'Escape') listener.onGivenUp();
    else listener.onKey(event.code);
  };
  window.addEventListener('keydown', down, { capture: true });
  return () => window.removeEventListener('keydown', down, { capture: true });
}
