import { useEffect, useSyncExternalStore } from 'react';
import type { DrillSession } from '../app/drill-session.ts';

/** The clock is looked at so often: fine enough for hints and undo to end when they should. */
const TICK_MS = 250;

/** Renders anew with every change of the session, and lets time pass in it while it is shown. */
export function useSession(session: DrillSession): void {
  useSyncExternalStore(session.subscribe, () => session.version);
  useEffect(() => {
    const timer = setInterval(() => session.tick(), TICK_MS);
    return () => clearInterval(timer);
  }, [session]);
}
