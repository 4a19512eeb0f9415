import type { MenuItemConstructorOptions, MessageBoxOptions } from 'electron';
import { APP_HOST, APP_SCHEME, answerPage } from './app-protocol.ts';
import { aboutBox } from './boxes.ts';
import type { Result, WindowRole } from './contract.ts';
import { diskFailure } from './disk-failure.ts';
import { makeHandlers } from './handlers.ts';
import {
  type IpcMainLike,
  type IpcSender,
  makeIpcGuard,
  serveIpc,
  type WebContentsLike,
} from './ipc-carrier.ts';
import { keepAwakeDuringDrills, type PowerSaveBlocker } from './keep-awake.ts';
import { menuTemplate } from './menu.ts';
import type { Station } from './station.ts';
import { writeWholeFile } from './whole-file.ts';

/** The station, its windows, and what Electron does for them: handed in, so that a test needs none of it. */
export type DesktopParts = {
  station: Pick<Station, 'host' | 'ledger' | 'settings' | 'plans' | 'standards' | 'classes' | 'facts'>;
  windows: { open(role: WindowRole): Promise<void>; readonly contents: readonly WebContentsLike[] };
  ipcMain: IpcMainLike;
  powerSaveBlocker: PowerSaveBlocker;
  setMenu: (template: MenuItemConstructorOptions[]) => void;
  showBox: (options: MessageBoxOptions) => Promise<{ response: number }>;
  /** Shows a file or folder in the system's own program; resolves to what is wrong, or to an empty text. */
  openPath: (path: string) => Promise<string>;
  /** Asks where a file is to be saved; an empty path: nowhere. */
  askWhere: (fileName: string) => Promise<string>;
  licencesPath: string;
  platform: NodeJS.Platform;
  isPackaged: boolean;
  versions: { electron: string; chromium: string };
  report: (error: unknown) => void;
};

/** Serves the windows, keeps the display on during drills, and hangs up the menus. */
export function serveDesktop(parts: DesktopParts): void {
  const { station, windows, report } = parts;
  const { host, ledger, settings, plans, standards, classes, facts } = station;
  const openWindow = (role: WindowRole) => windows.open(role);
  const savePaper = (fileName: string, { sender }: IpcSender) =>
    savePaperOf(sender, () => parts.askWhere(fileName));
  const isAllowed = makeIpcGuard({ protocol: `${APP_SCHEME}:`, host: APP_HOST });
  serveIpc({
    ipcMain: parts.ipcMain,
    handle: makeHandlers({
      isAllowed,
      host,
      ledger,
      settings,
      plans,
      standards,
      classes,
      facts,
      openWindow,
      savePaper,
      report,
    }),
    windows: () => windows.contents,
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    onWindowsChanged: (listener) => host.onWindowsChanged(listener),
    leaveWindow: (windowId) => host.leaveWindow(windowId),
  });
  keepAwakeDuringDrills(host, parts.powerSaveBlocker);

  const showPath = async (path: string) => {
    const problem = await parts.openPath(path);
    if (problem !== '') report(new Error(`${path}: ${problem}`));
  };
  const showLicences = () => showPath(parts.licencesPath);
  const showAbout = async () => {
    const { response } = await parts.showBox(aboutBox({ version: facts.version, ...parts.versions }));
    if (response === 1) await showLicences();
  };
  const attempt = (work: Promise<void>) => void work.catch(report);
  parts.setMenu(
    menuTemplate({
      platform: parts.platform,
      isPackaged: parts.isPackaged,
      openWindow: (role) => attempt(openWindow(role)),
      showJournals: () => attempt(showPath(facts.journalFolder)),
      showAbout: () => attempt(showAbout()),
      showLicences: () => attempt(showLicences()),
    }),
  );
}

/** What the page's own scheme answers: files of the built page to a GET of our host, and nothing else. */
export async function answerScheme(
  pageFolder: string,
  { url, method }: { url: string; method: string },
): Promise<Response> {
  const asked = new URL(url);
  const isOurs = asked.host === APP_HOST && method === 'GET';
  const { status, headers, body } = await answerPage(pageFolder, isOurs ? asked.pathname : '');
  return new Response(typeof body === 'string' ? body : new Uint8Array(body), {
    status,
    headers: { ...headers },
  });
}

/** The window's pages for paper as a PDF: the paper's size is the page's own. What is asked first, since making it takes a moment. */
async function savePaperOf(
  sender: IpcSender['sender'],
  askWhere: () => Promise<string>,
): Promise<Result<{ path: string | null }>> {
  const path = await askWhere();
  if (path === '') return { ok: true, value: { path: null } };
  const pdf = await sender.printToPDF({ preferCSSPageSize: true, printBackground: true });
  try {
    await writeWholeFile(path, pdf);
    return { ok: true, value: { path } };
  } catch (error) {
    return diskFailure(error);
  }
}
