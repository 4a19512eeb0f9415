import { performance } from 'node:perf_hooks';
import type { Ms } from '../machines/units.ts';

/** The host's own clock: ms that never go back, from a 0 that means nothing. */
export type HostClock = {
  now(): Ms;
  /** Calls once after a while; returns what takes that back. */
  wake(afterMs: Ms, then: () => void): () => void;
};

export const HOST_CLOCK: HostClock = {
  now: () => performance.now(),
  wake: (afterMs, then) => {
    const timer = setTimeout(then, afterMs);
    return () => clearTimeout(timer);
  },
};
