import type { BrowserWindowConstructorOptions } from 'electron';

/** The station's window: everything a page could misuse is off, and written down even where it is the default. */
export function windowOptions(parts: {
  preloadPath: string;
  isPackaged: boolean;
}): BrowserWindowConstructorOptions {
  return {
    title: 'Antiphon',
    width: 1280,
    height: 860,
    minWidth: 640,
    minHeight: 480,
    show: false,
    webPreferences: {
      preload: parts.preloadPath,
      devTools: !parts.isPackaged,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      safeDialogs: true,
      spellcheck: false,
      // The count must go on when the window is behind another.
      backgroundThrottling: false,
      autoplayPolicy: 'no-user-gesture-required',
    },
  };
}
