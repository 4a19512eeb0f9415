import { EventEmitter } from 'node:events';

/**
 * A stand-in for the module `electron`, for the packed main script in a process of its own: says on its output what it was asked
 * for, a JSON list a line, loads a window's page through the app's own scheme, and closes the window.
 */
const say = (...words) => console.log(JSON.stringify(words));
let answerScheme = async () => new Response('', { status: 500 });

export const app = Object.assign(new EventEmitter(), {
  isPackaged: false,
  setPath: (name, path) => say('setPath', name, path),
  enableSandbox: () => say('enableSandbox'),
  requestSingleInstanceLock: () => process.env.STAND_IN_IS_SECOND === undefined,
  whenReady: async () => say('ready'),
  exit: (status) => {
    say('exit', status);
    process.exit(status);
  },
  quit: () => {
    let isHeld = false;
    app.emit('will-quit', {
      preventDefault: () => {
        isHeld = true;
      },
    });
    if (!isHeld) app.exit(0);
  },
});

class WebContents extends EventEmitter {
  setWindowOpenHandler(handler) {
    say('window open', handler({ url: 'https://example.org/' }));
  }
  send() {}
  forcefullyCrashRenderer() {}
}

export class BrowserWindow extends EventEmitter {
  webContents = new WebContents();

  constructor(options) {
    super();
    const { sandbox, contextIsolation, nodeIntegration, webSecurity } = options.webPreferences;
    say('window', { sandbox, contextIsolation, nodeIntegration, webSecurity });
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(url) {
    const page = await answerScheme({ url, method: 'GET' });
    say('page', url, page.status, (await page.text()).includes('id="station"'));
    setImmediate(() => {
      this.emit('close');
      this.emit('closed');
      app.emit('window-all-closed');
    });
  }
  show() {}
  focus() {}
  isMinimized() {
    return false;
  }
  isMaximized() {
    return false;
  }
  getNormalBounds() {
    return { x: 1, y: 2, width: 800, height: 600 };
  }
}

export const dialog = { showErrorBox: (title, words) => say('error', title, words) };
export const ipcMain = { handle: (channel) => say('handle', channel) };
export const Menu = {
  buildFromTemplate: (template) => template,
  setApplicationMenu: (menu) => say('menu', menu.length),
};
export const powerSaveBlocker = { start: () => 1, stop: () => true };
export const protocol = {
  registerSchemesAsPrivileged: (schemes) => say('schemes', ...schemes.map(({ scheme }) => scheme)),
  handle: (_scheme, answer) => {
    answerScheme = answer;
  },
};
export const screen = { getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1040 } }] };
const locks = {
  setPermissionRequestHandler: () => say('locked', 'requests'),
  setPermissionCheckHandler: () => say('locked', 'checks'),
  setDevicePermissionHandler: () => say('locked', 'devices'),
  setDisplayMediaRequestHandler: () => say('locked', 'display'),
  webRequest: { onBeforeRequest: () => say('locked', 'network') },
};
export const session = { defaultSession: locks };
export const shell = { openPath: async () => '' };
