import { mkdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  app,
  BrowserWindow,
  dialog,
  ipcMain,
  Menu,
  powerSaveBlocker,
  protocol,
  screen,
  session,
  shell,
} from 'electron';
import { DESKTOP_WORDS } from '../machines/words/desktop.ts';
import { APP_ADDRESS, APP_SCHEME } from './app-protocol.ts';
import { questionBox } from './boxes.ts';
import { answerScheme, serveDesktop } from './desktop.ts';
import { DesktopWindows } from './desktop-windows.ts';
import { dataFolder } from './folders.ts';
import { lockContents, lockSession } from './locked-down.ts';
import { ALREADY_OPEN_STATUS } from './shells.ts';
import { openStation, PAGE_FOLDER, type Station } from './station.ts';
import { windowOptions } from './window.ts';
import { PLACES_FILE, WindowPlaces } from './window-places.ts';

/** Electron's lifecycle and nothing else. Never imported by a test. */

const PRELOAD = fileURLToPath(new URL('./preload.cjs', import.meta.url));
/** Beside the packed archive, where other programs can read it; in a checkout where the build leaves it. */
const LICENCES = join(
  app.isPackaged ? process.resourcesPath : join(PAGE_FOLDER, '..'),
  'THIRD-PARTY-LICENCES.txt',
);
const FOLDER = resolve(dataFolder({ platform: process.platform, home: homedir(), env: process.env }));
const report = (error: unknown) => console.error(error);

keepOwnFolder();
protocol.registerSchemesAsPrivileged([
  { scheme: APP_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
]);
app.enableSandbox();
app.on('web-contents-created', (_event, contents) => lockContents(contents));
app.on('window-all-closed', () => app.quit());
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => app.quit());
if (app.requestSingleInstanceLock()) void start();
else app.exit(ALREADY_OPEN_STATUS);

async function start(): Promise<void> {
  try {
    await app.whenReady();
    const station = await openStation('electron');
    if (station === null) return app.exit(ALREADY_OPEN_STATUS);
    const places = await WindowPlaces.open(join(FOLDER, PLACES_FILE));
    leaveBeforeQuit(station, places);
    lockSession(session.defaultSession);
    protocol.handle(APP_SCHEME, (request) => answerScheme(PAGE_FOLDER, request));
    const windows = makeWindows(places);
    app.on('second-instance', () => windows.bringToFront());
    serveDesktop({
      station,
      windows,
      ipcMain,
      powerSaveBlocker,
      setMenu: (template) => Menu.setApplicationMenu(Menu.buildFromTemplate(template)),
      showBox: (options) => dialog.showMessageBox(options),
      openPath: (path) => shell.openPath(path),
      askWhere: async (name) => (await dialog.showSaveDialog({ defaultPath: name })).filePath,
      licencesPath: LICENCES,
      platform: process.platform,
      isPackaged: app.isPackaged,
      versions: { electron: process.versions.electron, chromium: process.versions.chrome },
      report,
    });
    await windows.open('instructor');
  } catch (error) {
    dialog.showErrorBox(DESKTOP_WORDS.cannotStart, error instanceof Error ? error.message : String(error));
    app.exit(1);
  }
}

function makeWindows(places: WindowPlaces) {
  return new DesktopWindows({
    make: (options) => new BrowserWindow(options),
    options: windowOptions({ preloadPath: PRELOAD, isPackaged: app.isPackaged }),
    address: APP_ADDRESS,
    places,
    workAreas: () => screen.getAllDisplays().map((display) => display.workArea),
    ask: async (window, question) => (await dialog.showMessageBox(window, questionBox(question))).response,
    now: () => performance.now(),
    report,
  });
}

/** Chromium's own files lie beside the journals, not in a roaming profile; one instance a data folder follows from it. */
function keepOwnFolder(): void {
  const own = join(FOLDER, 'electron');
  try {
    mkdirSync(own, { recursive: true, mode: 0o700 });
    app.setPath('userData', own);
  } catch {
    // The station finds the same trouble with the folder in a moment, and says so in a box.
  }
}

function leaveBeforeQuit(station: Station, places: WindowPlaces): void {
  let hasLeft = false;
  app.on('will-quit', (event) => {
    if (hasLeft) return;
    event.preventDefault();
    void Promise.all([station.leave(), places.settle()]).finally(() => {
      hasLeft = true;
      app.quit();
    });
  });
}
