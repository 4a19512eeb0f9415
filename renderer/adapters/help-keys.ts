import { HELP_KEY } from '../../machines/words/help-words.ts';

export type HelpKeys = {
  onToggle: () => void;
  /** While help is shown. */
  onEscape: (() => void) | null;
  /** Help stands over the screen: no other key is to act behind it. */
  isOver: boolean;
};

/**
 * The key of cautions and help, and Escape while they are shown, heard before anything that listens later: this Escape ends
 * nothing else. Releases always pass: a switch that was held when help was opened comes up. Returns what stops the listening.
 */
export function listenForHelp(
  target: Pick<Window, 'addEventListener' | 'removeEventListener'>,
  keysNow: () => HelpKeys | null,
): () => void {
  const down = (event: KeyboardEvent) => {
    const keys = keysNow();
    if (keys === null) return;
    const isPlain = !event.ctrlKey && !event.altKey && !event.metaKey;
    const toggle = event.code === HELP_KEY ? keys.onToggle : null;
    const meant = event.code === 'Escape' ? keys.onEscape : toggle;
    if (isPlain && meant !== null) {
      event.preventDefault();
      event.stopImmediatePropagation();
      if (!event.repeat) meant();
    } else if (keys.isOver) {
      event.stopImmediatePropagation();
    }
  };
  target.addEventListener('keydown', down, { capture: true });
  return () => target.removeEventListener('keydown', down, { capture: true });
}
