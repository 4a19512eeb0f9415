import type { BrowserWindowConstructorOptions } from 'electron';
import { type WindowRole, windowAddress } from './contract.ts';
import type { WebContentsLike } from './ipc-carrier.ts';
import { type Question, type RecoveredContents, recoverPage } from './page-recovery.ts';
import { type Area, placeOn, type WindowPlaces } from './window-places.ts';

/** The parts of Electron's `BrowserWindow` that are used. */
export type DesktopWindow = {
  readonly webContents: RecoveredContents & WebContentsLike;
  loadURL(address: string): Promise<void>;
  once(event: 'ready-to-show', listener: () => void): unknown;
  on(event: 'close' | 'closed', listener: () => void): unknown;
  show(): void;
  focus(): void;
  isMinimized(): boolean;
  restore(): void;
  maximize(): void;
  isMaximized(): boolean;
  getNormalBounds(): Area;
  destroy(): void;
};
export type WindowsParts<Window extends DesktopWindow> = {
  make: (options: BrowserWindowConstructorOptions) => Window;
  options: BrowserWindowConstructorOptions;
  /** The page's own address. */
  address: string;
  places: WindowPlaces;
  workAreas: () => readonly Area[];
  ask: (window: Window, question: Question) => Promise<number>;
  now: () => number;
  report: (error: unknown) => void;
};

/** The station's two windows, one a role and no third. */
export class DesktopWindows<Window extends DesktopWindow> {
  private readonly parts: WindowsParts<Window>;
  private readonly windows = new Map<WindowRole, Window>();

  constructor(parts: WindowsParts<Window>) {
    this.parts = parts;
  }

  /** Opens the role's window, or brings it to the front. Rejects when its page cannot be loaded, but not when it crashed meanwhile: then recovery loads it. */
  async open(role: WindowRole): Promise<void> {
    const there = this.windows.get(role);
    if (there !== undefined) return bringToFront(there);
    const { make, options, places, workAreas } = this.parts;
    const remembered = places.of(role);
    const place = remembered === null ? null : placeOn(remembered, workAreas());
    // The learners' eyes belong on the chest: their window has no bar of menus.
    const bar = { autoHideMenuBar: role === 'learners' };
    const window = make({ ...options, ...bar, ...(place === null ? {} : areaOf(place)) });
    this.windows.set(role, window);
    if (place?.isMaximized) window.maximize();
    window.once('ready-to-show', () => window.show());
    window.on('close', () =>
      places.note(role, { ...areaOf(window.getNormalBounds()), isMaximized: window.isMaximized() }),
    );
    window.on('closed', () => this.windows.delete(role));
    let hasCrashed = false;
    window.webContents.on('render-process-gone', () => {
      hasCrashed = true;
    });
    this.recover(window, role);
    try {
      await this.load(window, role);
    } catch (error) {
      if (!hasCrashed) throw error;
      this.parts.report(error);
    }
  }

  /** For who started the app a second time: the windows that are there come to the front, the instructor's last. */
  bringToFront(): void {
    for (const role of ['learners', 'instructor'] as const) {
      const window = this.windows.get(role);
      if (window !== undefined) bringToFront(window);
    }
  }

  get contents(): readonly WebContentsLike[] {
    return [...this.windows.values()].map((window) => window.webContents);
  }

  private load(window: Window, role: WindowRole): Promise<void> {
    return window.loadURL(windowAddress(this.parts.address, role));
  }

  private recover(window: Window, role: WindowRole): void {
    const { ask, now, report } = this.parts;
    recoverPage({
      contents: window.webContents,
      load: () => this.load(window, role).catch(report),
      close: () => window.destroy(),
      ask: (question) => ask(window, question),
      now,
    });
  }
}

function bringToFront(window: DesktopWindow): void {
  if (window.isMinimized()) window.restore();
  window.show();
  window.focus();
}

function areaOf({ x, y, width, height }: Area): Area {
  return { x, y, width, height };
}
