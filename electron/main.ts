import { fileURLToPath } from 'node:url';
import { app, BrowserWindow, dialog, ipcMain, protocol, session } from 'electron';
import { APP_ADDRESS, APP_HOST, APP_SCHEME, answerPage } from './app-protocol.ts';
import { type WindowRole, windowAddress } from './contract.ts';
import { makeHandlers } from './handlers.ts';
import { makeIpcGuard, serveIpc } from './ipc-carrier.ts';
import { ALREADY_OPEN_STATUS } from './shells.ts';
import { openStation, PAGE_FOLDER, type Station } from './station.ts';
import { windowOptions } from './window.ts';

/** Electron's lifecycle and nothing else. Never imported by a test. */

const PRELOAD = fileURLToPath(new URL('./preload.cjs', import.meta.url));

protocol.registerSchemesAsPrivileged([
  { scheme: APP_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
]);
app.enableSandbox();
app.on('web-contents-created', (_event, contents) => {
  contents.on('will-navigate', (event) => event.preventDefault());
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
});
app.on('window-all-closed', () => app.quit());
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => app.quit());
void start();

async function start(): Promise<void> {
  await app.whenReady();
  try {
    const station = await openStation('electron');
    if (station === null) return app.exit(ALREADY_OPEN_STATUS);
    leaveBeforeQuit(station);
    refusePermissions();
    servePage();
    serveStation(station);
    await openWindow('instructor');
  } catch (error) {
    dialog.showErrorBox('Antiphon cannot start', error instanceof Error ? error.message : String(error));
    app.exit(1);
  }
}

function servePage(): void {
  protocol.handle(APP_SCHEME, async (request) => {
    const url = new URL(request.url);
    const isOurs = url.host === APP_HOST && request.method === 'GET';
    const { status, headers, body } = await answerPage(PAGE_FOLDER, isOurs ? url.pathname : '');
    return new Response(typeof body === 'string' ? body : new Uint8Array(body), {
      status,
      headers: { ...headers },
    });
  });
}

function serveStation(station: Station): void {
  const isAllowed = makeIpcGuard({ protocol: `${APP_SCHEME}:`, host: APP_HOST });
  const { host, ledger, settings, plans, facts } = station;
  serveIpc({
    ipcMain,
    handle: makeHandlers({
      isAllowed,
      host,
      ledger,
      settings,
      plans,
      facts,
      openWindow,
      report: (error) => console.error(error),
    }),
    windows: () => BrowserWindow.getAllWindows().map((window) => window.webContents),
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    onWindowsChanged: (listener) => host.onWindowsChanged(listener),
    leaveWindow: (windowId) => host.leaveWindow(windowId),
  });
}

function refusePermissions(): void {
  session.defaultSession.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.defaultSession.setPermissionCheckHandler(() => false);
  session.defaultSession.setDevicePermissionHandler(() => false);
}

async function openWindow(role: WindowRole): Promise<void> {
  const window = new BrowserWindow(windowOptions(PRELOAD));
  window.once('ready-to-show', () => window.show());
  await window.loadURL(windowAddress(APP_ADDRESS, role));
}

function leaveBeforeQuit(station: Station): void {
  let hasLeft = false;
  app.on('will-quit', (event) => {
    if (hasLeft) return;
    event.preventDefault();
    void station.leave().finally(() => {
      hasLeft = true;
      app.quit();
    });
  });
}
