import { join } from 'node:path';
import type { MenuItemConstructorOptions } from 'electron';
import { serveDesktop } from '../../electron/desktop.ts';
import type { JournalHost } from '../../electron/journal-host.ts';
import { makeBoxes } from './fake-desktop.ts';
import type { FakeIpc } from './fake-ipc.ts';
import { storesIn } from './stores.ts';

/** What Electron was asked to do for the desktop. */
export type Asked = {
  menu: MenuItemConstructorOptions[];
  boxes: ReturnType<typeof makeBoxes>['shown'];
  opened: string[];
  /** Kinds of what keeps the display on just now. */
  awake: string[];
  mistakes: unknown[];
};

/** The real desktop over Electron's fakes. */
export function serveFakeDesktop(parts: {
  host: JournalHost;
  ipc: FakeIpc;
  folder: string;
  windows: Parameters<typeof serveDesktop>[0]['windows'];
  platform?: NodeJS.Platform;
  isPackaged?: boolean;
  /** What is answered to every box. */
  answer?: number;
  /** The folder that is chosen to save in; none: they think better of it. */
  saveIn?: string;
}): Asked {
  const { host, ipc, folder, windows } = parts;
  const boxes = makeBoxes(parts.answer ?? 0);
  const asked: Asked = { menu: [], boxes: boxes.shown, opened: [], awake: [], mistakes: [] };
  serveDesktop({
    station: {
      host,
      ...storesIn(folder, host),
      facts: { journalFolder: join(folder, 'journals'), shell: 'electron', version: '1.2.3' },
    },
    windows,
    ipcMain: ipc.ipcMain,
    powerSaveBlocker: {
      start: (kind) => asked.awake.push(kind),
      stop: (id) => asked.awake.splice(id - 1, 1),
    },
    setMenu: (template) => {
      asked.menu = template;
    },
    showBox: boxes.showBox,
    openPath: async (path) => {
      asked.opened.push(path);
      return path.endsWith('journals') ? 'there is no such folder' : '';
    },
    askWhere: async (fileName) => (parts.saveIn === undefined ? '' : join(parts.saveIn, fileName)),
    licencesPath: '/app/THIRD-PARTY-LICENCES.txt',
    platform: parts.platform ?? 'linux',
    isPackaged: parts.isPackaged ?? true,
    versions: { electron: '45.4.1', chromium: '156.0.1' },
    report: (error) => asked.mistakes.push(error),
  });
  return asked;
}
