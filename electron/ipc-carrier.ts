import {
  CHANNELS,
  type DrillWindows,
  LINES_WRITTEN,
  type LinesWritten,
  type makeBridge,
  type Result,
  WINDOWS_CHANGED,
} from './contract.ts';
import type { Handle } from './handlers.ts';

/** The window's end of a carrier: what `makeBridge` asks for. */
type Carrier = Parameters<typeof makeBridge>[0];

/** What Electron tells of who asks. A frame inside a page has a parent; the window's own page has none. */
export type IpcSender = {
  senderFrame: { url: string; parent: unknown } | null;
  sender: {
    once(event: 'destroyed' | 'render-process-gone', listener: () => void): unknown;
    printToPDF(options: { preferCSSPageSize: boolean; printBackground: boolean }): Promise<Uint8Array>;
  };
};
/** The parts of Electron's `ipcMain`, `webContents` and `ipcRenderer` that are used. */
export type IpcMainLike = {
  handle(channel: string, listener: (event: IpcSender, argument: unknown) => Promise<unknown>): void;
};
export type WebContentsLike = { send(channel: string, value: unknown): void };
export type IpcRendererLike = {
  invoke(channel: string, argument: unknown): Promise<unknown>;
  on(channel: string, listener: (event: unknown, value: unknown) => void): unknown;
  off(channel: string, listener: (event: unknown, value: unknown) => void): unknown;
};

/** The host's end: hands each request of the table to the handlers, and tells every window of lines written and of windows. */
export function serveIpc(parts: {
  ipcMain: IpcMainLike;
  handle: Handle<IpcSender>;
  windows: () => readonly WebContentsLike[];
  onLinesWritten: (listener: (written: LinesWritten) => void) => () => void;
  onWindowsChanged: (listener: (windows: DrillWindows) => void) => () => void;
  leaveWindow: (windowId: string) => void;
}): () => void {
  const attending = new WeakMap<IpcSender['sender'], string>();
  for (const channel of CHANNELS) {
    parts.ipcMain.handle(channel, async (event, argument) => {
      const result = await parts.handle(channel, argument, event);
      if (channel === 'drill:attend' && result.ok) noteWindow(event.sender, windowIdOf(argument));
      return result;
    });
  }
  const tell = (channel: string) => (value: unknown) => {
    for (const window of parts.windows()) window.send(channel, value);
  };
  const stops = [parts.onLinesWritten(tell(LINES_WRITTEN)), parts.onWindowsChanged(tell(WINDOWS_CHANGED))];
  return () => {
    for (const stop of stops) stop();
  };

  /** A page that was loaded anew has another id: the one before it is gone, as it is when its process ends. */
  function noteWindow(sender: IpcSender['sender'], windowId: string): void {
    const before = attending.get(sender);
    if (before === windowId) return;
    attending.set(sender, windowId);
    if (before !== undefined) parts.leaveWindow(before);
    for (const end of ['destroyed', 'render-process-gone'] as const)
      sender.once(end, () => parts.leaveWindow(windowId));
  }
}

/** Of an argument that was parsed already. */
function windowIdOf(argument: unknown): string {
  return (argument as { windowId: string }).windowId;
}

/** True for the window's own page: its origin is parsed from the address, never searched for in it. */
export function makeIpcGuard(origin: { protocol: string; host: string }): (sender: IpcSender) => boolean {
  return ({ senderFrame }) => {
    if (senderFrame === null || senderFrame.parent !== null) return false;
    if (!URL.canParse(senderFrame.url)) return false;
    const url = new URL(senderFrame.url);
    return url.protocol === origin.protocol && url.host === origin.host;
  };
}

/** The window's end, for the preload script. Never rejects. */
export function makeIpcCarrier(ipcRenderer: IpcRendererLike): Carrier {
  return {
    request: async (channel, argument) => {
      try {
        return (await ipcRenderer.invoke(channel, argument)) as Result<never>;
      } catch {
        return { ok: false, code: 'internal', message: 'the station does not answer' };
      }
    },
    listen: (listener) => hearOn(LINES_WRITTEN, (written) => listener(written as LinesWritten)),
    listenToWindows: (listener) => hearOn(WINDOWS_CHANGED, (windows) => listener(windows as DrillWindows)),
  };

  function hearOn(channel: string, listener: (value: unknown) => void): () => void {
    const hear = (_event: unknown, value: unknown) => listener(value);
    ipcRenderer.on(channel, hear);
    return () => {
      ipcRenderer.off(channel, hear);
    };
  }
}
