/** The Enter that led to this page may still be held: its repeats must not press what has the focus here. */
export function holdBackRepeats(): () => void {
  const down = (event: KeyboardEvent) => {
    if (event.repeat && event.code.endsWith('Enter')) event.preventDefault();
  };
  window.addEventListener('keydown', down, { capture: true });
  return () => window.removeEventListener('keydown', down, { capture: true });
}
