import type { DrillWindows } from './contract.ts';

/** What a carrier tells of the windows of a drill, and whom it tells that one is gone. */
export type WindowNews = {
  onWindowsChanged: (listener: (windows: DrillWindows) => void) => () => void;
  readonly currentWindows: DrillWindows | null;
  meetWindow: (windowId: string) => void;
  leaveWindow: (windowId: string) => void;
};

/** Which windows listen: one is gone when the last of its connections is. */
export class WindowSeats {
  private readonly news: WindowNews;
  private readonly connections = new Map<string, number>();

  constructor(news: WindowNews) {
    this.news = news;
  }

  /** A connection of a window, if it says which; what it is to be told first, and what to call when the connection ends. */
  take(windowId: string | undefined): { first: DrillWindows | null; onGone: () => void } {
    const first = this.news.currentWindows;
    if (windowId === undefined) return { first, onGone: () => undefined };
    this.connections.set(windowId, (this.connections.get(windowId) ?? 0) + 1);
    this.news.meetWindow(windowId);
    return { first, onGone: () => this.leave(windowId) };
  }

  private leave(windowId: string): void {
    const left = (this.connections.get(windowId) ?? 1) - 1;
    this.connections.set(windowId, left);
    if (left > 0) return;
    this.connections.delete(windowId);
    this.news.leaveWindow(windowId);
  }
}
