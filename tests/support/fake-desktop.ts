import type { BrowserWindowConstructorOptions, MessageBoxOptions } from 'electron';
import { APP_ADDRESS } from '../../electron/app-protocol.ts';
import { type DesktopWindow, DesktopWindows } from '../../electron/desktop-windows.ts';
import type { Question } from '../../electron/page-recovery.ts';
import { windowOptions } from '../../electron/window.ts';
import type { Area, WindowPlaces } from '../../electron/window-places.ts';
import type { FakeIpc } from './fake-ipc.ts';

type Listener = (event: unknown, details: { reason: string }) => void;

/** One of Electron's objects that tell of events. */
class Emitter {
  private readonly listeners: [string, Listener][] = [];

  on(event: string, listener: Listener): void {
    this.listeners.push([event, listener]);
  }
  once(event: string, listener: Listener): void {
    this.on(event, listener);
  }
  emit(event: string, reason = ''): void {
    for (const [name, listener] of this.listeners) if (name === event) listener({}, { reason });
  }
}

/** The page of a window, as Electron's main process sees it. */
export class FakeContents extends Emitter {
  readonly send: (channel: string, value: unknown) => void;

  constructor(send: (channel: string, value: unknown) => void) {
    super();
    this.send = send;
  }

  forcefullyCrashRenderer(): void {
    this.stop('killed');
  }
  stop(reason: string): void {
    this.emit('render-process-gone', reason);
  }
}

/** Electron's BrowserWindow without Electron: what was asked of it, in order. */
export class FakeWindow extends Emitter implements DesktopWindow {
  readonly options: BrowserWindowConstructorOptions;
  readonly webContents: FakeContents;
  readonly done: string[] = [];
  bounds: Area = { x: 10, y: 20, width: 900, height: 700 };
  isMaximizedNow = false;
  isMinimizedNow = false;

  constructor(options: BrowserWindowConstructorOptions, ipc: FakeIpc | null) {
    super();
    this.options = options;
    this.webContents = new FakeContents((channel, value) => ipc?.webContents.send(channel, value));
  }

  async loadURL(address: string): Promise<void> {
    this.done.push(`load ${address}`);
  }
  show(): void {
    this.done.push('show');
  }
  focus(): void {
    this.done.push('focus');
  }
  isMinimized(): boolean {
    return this.isMinimizedNow;
  }
  restore(): void {
    this.done.push('restore');
  }
  maximize(): void {
    this.done.push('maximize');
  }
  isMaximized(): boolean {
    return this.isMaximizedNow;
  }
  getNormalBounds(): Area {
    return this.bounds;
  }
  destroy(): void {
    this.emit('closed');
  }
  /** As the person at it does. */
  close(): void {
    this.emit('close');
    this.emit('closed');
  }
}

export type FakeDesktop = {
  windows: DesktopWindows<FakeWindow>;
  /** Every window that was ever made. */
  made: FakeWindow[];
  questions: Question[];
  /** What the people answer to questions, by number. */
  answer: { next: number };
  clock: { nowMs: number };
  mistakes: unknown[];
};

/** The station's windows over fakes, on one display of Full HD with a bar of 40 at its foot unless told otherwise. */
export function makeDesktop(
  places: WindowPlaces,
  {
    workAreas = [{ x: 0, y: 0, width: 1920, height: 1040 }],
    ipc = null,
  }: { workAreas?: readonly Area[]; ipc?: FakeIpc | null } = {},
): FakeDesktop {
  const made: FakeWindow[] = [];
  const questions: Question[] = [];
  const mistakes: unknown[] = [];
  const answer = { next: 0 };
  const clock = { nowMs: 0 };
  const windows = new DesktopWindows<FakeWindow>({
    make: (options) => {
      const window = new FakeWindow(options, ipc);
      made.push(window);
      return window;
    },
    options: windowOptions({ preloadPath: '/preload.cjs', isPackaged: true }),
    address: APP_ADDRESS,
    places,
    workAreas: () => workAreas,
    ask: async (_window, question) => {
      questions.push(question);
      return answer.next;
    },
    now: () => clock.nowMs,
    report: (error) => mistakes.push(error),
  });
  return { windows, made, questions, answer, clock, mistakes };
}

/** A message box that is answered at once, and what it said. */
export function makeBoxes(response: number): {
  shown: MessageBoxOptions[];
  showBox: (options: MessageBoxOptions) => Promise<{ response: number }>;
} {
  const shown: MessageBoxOptions[] = [];
  return {
    shown,
    showBox: async (options) => {
      shown.push(options);
      return { response };
    },
  };
}
