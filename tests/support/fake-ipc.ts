import type { IpcMainLike, IpcRendererLike, IpcSender, WebContentsLike } from '../../electron/ipc-carrier.ts';

type Listener = (event: unknown, value: unknown) => void;

/** Electron's three IPC objects without Electron. Values are cloned as they are when they cross a process. */
export class FakeIpc {
  private readonly handlers = new Map<string, (event: IpcSender, argument: unknown) => Promise<unknown>>();
  private readonly listeners = new Map<string, Set<Listener>>();

  readonly ipcMain: IpcMainLike = {
    handle: (channel, handler) => {
      if (this.handlers.has(channel)) throw new Error(`a second handler for ${channel}`);
      this.handlers.set(channel, handler);
    },
  };
  readonly webContents: WebContentsLike = {
    send: (channel, value) => {
      const sent = structuredClone(value);
      queueMicrotask(() => {
        for (const listener of this.listeners.get(channel) ?? []) listener({}, sent);
      });
    },
  };

  /** What a page at an address has; `parent` is there for a frame inside a page. `ends` hears the listeners of the page's end. */
  rendererAt(url: string, parent: unknown = null, ends: (() => void)[] = []): IpcRendererLike {
    const sender: IpcSender['sender'] = {
      once: (_event, listener) => ends.push(listener),
      printToPDF: async (options) => Buffer.from(`%PDF ${JSON.stringify(options)}`),
    };
    return {
      invoke: async (channel, argument) => {
        const handler = this.handlers.get(channel);
        if (handler === undefined) throw new Error(`no handler for ${channel}`);
        return structuredClone(
          await handler({ senderFrame: { url, parent }, sender }, structuredClone(argument)),
        );
      },
      on: (channel, listener) => {
        const there = this.listeners.get(channel) ?? new Set();
        this.listeners.set(channel, there.add(listener));
      },
      off: (channel, listener) => this.listeners.get(channel)?.delete(listener),
    };
  }
}
