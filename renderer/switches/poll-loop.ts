import type { Ms } from '../../machines/units.ts';

/** Calls `poll` again and again until what it returns is called. */
export type StartPolling = (poll: () => void) => () => void;

/** How often a pad is looked at. A page's plain timers are held to 4 ms; posted tasks are not (measured: 1.0 to 1.2 ms). */
export const POLL_MS: Ms = 1;

type TaskScheduler = {
  postTask(task: () => void, options: { delay: Ms; priority: 'user-blocking' }): Promise<unknown>;
};

/** Polls as fast as the platform allows without keeping a processor busy. */
export function pollFast(window: Window): StartPolling {
  const { scheduler } = window as Window & { scheduler?: TaskScheduler };
  return (poll) => {
    let isOn = true;
    const turn = () => {
      if (!isOn) return;
      // One look that fails must not be the last.
      try {
        poll();
      } finally {
        next();
      }
    };
    const next = () => {
      if (scheduler === undefined) window.setTimeout(turn, POLL_MS);
      else void scheduler.postTask(turn, { delay: POLL_MS, priority: 'user-blocking' });
    };
    next();
    return () => {
      isOn = false;
    };
  };
}
