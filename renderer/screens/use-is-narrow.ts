import { useSyncExternalStore } from 'react';

/** The width under which the Floor has one column: the same as in its style sheet. */
const NARROW = '(max-width: 62em)';

/** Is the window so narrow that everything stands in one column? */
export function useIsNarrow(): boolean {
  return useSyncExternalStore(subscribe, () => window.matchMedia(NARROW).matches);
}

function subscribe(listener: () => void): () => void {
  const query = window.matchMedia(NARROW);
  query.addEventListener('change', listener);
  return () => query.removeEventListener('change', listener);
}
