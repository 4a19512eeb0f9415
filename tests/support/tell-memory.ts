/**
 * Loaded before the station's program (`node --expose-gc --import`): when asked over the process's channel it collects its garbage and
 * says what is left. The program itself knows nothing of it.
 */
export type HostMemory = {
  /** JavaScript's own, after the collection. */
  heapBytes: number;
  /** What keeps the process alive: sockets, timers, files. */
  openHandles: number;
};

process.on('message', () => {
  // The second collection takes what the first one's finalisers let go of.
  globalThis.gc?.();
  globalThis.gc?.();
  const said: HostMemory = {
    heapBytes: process.memoryUsage().heapUsed,
    openHandles: process.getActiveResourcesInfo().length,
  };
  process.send?.(said);
});
// Being asked is no reason to stay.
process.channel?.unref();
