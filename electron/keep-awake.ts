import type { DrillWindows } from './contract.ts';

/** Electron's `powerSaveBlocker`, as far as it is used. */
export type PowerSaveBlocker = { start(kind: 'prevent-display-sleep'): number; stop(id: number): unknown };
export type DrillNews = {
  onWindowsChanged: (listener: (windows: DrillWindows) => void) => () => void;
  onLinesWritten: (listener: () => void) => () => void;
  readonly currentWindows: DrillWindows | null;
};

/**
 * Keeps the display on while a drill is open in a window: nobody touches a mouse in ten minutes of compressions. A drill
 * whose windows are all gone keeps nothing awake.
 */
export function keepAwakeDuringDrills(host: DrillNews, blocker: PowerSaveBlocker): () => void {
  let held: number | null = null;
  const look = (): void => {
    const isDrill = (host.currentWindows?.windows.length ?? 0) > 0;
    if (isDrill && held === null) held = blocker.start('prevent-display-sleep');
    if (!isDrill && held !== null) {
      blocker.stop(held);
      held = null;
    }
  };
  const stops = [host.onWindowsChanged(look), host.onLinesWritten(look)];
  return () => {
    for (const stop of stops) stop();
    if (held !== null) blocker.stop(held);
    held = null;
  };
}
