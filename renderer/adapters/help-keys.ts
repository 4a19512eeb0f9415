import { HELP_KEY } from '../../machines/words/help-words.ts';

/**
 * The key of cautions and help, and Escape while they are shown. Heard before anything else in the window, so that this
 * Escape ends nothing else. Returns what stops the listening.
 */
export function listenForHelp(
  target: Pick<Window, 'addEventListener' | 'removeEventListener'>,
  listener: { onToggle: () => void; onEscape: (() => void) | null },
): () => void {
  const down = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const wanted = event.code === HELP_KEY ? listener.onToggle : null;
    const meant = event.code === 'Escape' ? listener.onEscape : wanted;
    if (meant === null) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (!event.repeat) meant();
  };
  target.addEventListener('keydown', down, { capture: true });
  return () => target.removeEventListener('keydown', down, { capture: true });
}
