import { CHANNELS, LINES_WRITTEN, type LinesWritten, type makeBridge, type Result } from './contract.ts';
import type { Handle } from './handlers.ts';

/** The window's end of a carrier: what `makeBridge` asks for. */
type Carrier = Parameters<typeof makeBridge>[0];

/** What Electron tells of who asks. A frame inside a page has a parent; the window's own page has none. */
export type IpcSender = { senderFrame: { url: string; parent: unknown } | null };
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

/** The host's end: hands each request of the table to the handlers, and tells every window of lines written. */
export function serveIpc(parts: {
  ipcMain: IpcMainLike;
  handle: Handle<IpcSender>;
  windows: () => readonly WebContentsLike[];
  onLinesWritten: (listener: (written: LinesWritten) => void) => () => void;
}): () => void {
  for (const channel of CHANNELS) {
    parts.ipcMain.handle(channel, (event, argument) => parts.handle(channel, argument, event));
  }
  return parts.onLinesWritten((written) => {
    for (const window of parts.windows()) window.send(LINES_WRITTEN, written);
  });
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
    listen: (listener) => {
      const hear = (_event: unknown, written: unknown) => listener(written as LinesWritten);
      ipcRenderer.on(LINES_WRITTEN, hear);
      return () => {
        ipcRenderer.off(LINES_WRITTEN, hear);
      };
    },
  };
}
