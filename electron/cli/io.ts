/** Where a command writes and whether people watch it; handed in, so that a test needs no process. */
export type Io = {
  out: (text: string) => void;
  err: (text: string) => void;
  /** True when standard error is a terminal: then a progress line is shown there. */
  isWatched: boolean;
};

/** Exit statuses of the command line. */
export const DONE = 0;
export const BAD_CALL = 2;
export const BAD_INPUT = 3;
