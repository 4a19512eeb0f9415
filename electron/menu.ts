import type { MenuItemConstructorOptions } from 'electron';
import { DESKTOP_WORDS } from '../machines/words/desktop.ts';
import { WINDOW_WORDS } from '../machines/words/windows.ts';
import type { WindowRole } from './contract.ts';

export type MenuParts = {
  platform: NodeJS.Platform;
  isPackaged: boolean;
  openWindow: (role: WindowRole) => void;
  showJournals: () => void;
  showAbout: () => void;
  showLicences: () => void;
};
type Items = MenuItemConstructorOptions[];

/**
 * The menus as each system has them. The page's keys are the page's: no item has a shortcut without Ctrl or Cmd but the
 * system's F11. Reload and developer tools are for developers only: in the packed app no reload by a slip of a hand loses what was pressed.
 */
export function menuTemplate(parts: MenuParts): Items {
  const isMac = parts.platform === 'darwin';
  const about = { label: DESKTOP_WORDS.about, click: parts.showAbout };
  const licences = { label: DESKTOP_WORDS.licences, click: parts.showLicences };
  const menu = (word: string, submenu: Items) => ({ label: isMac ? word : `&${word}`, submenu });
  return [
    ...(isMac ? [appMenu(about)] : []),
    menu(DESKTOP_WORDS.file, fileItems(parts, isMac)),
    menu(DESKTOP_WORDS.edit, [
      { role: 'undo' },
      { role: 'redo' },
      { type: 'separator' },
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ]),
    menu(DESKTOP_WORDS.view, [
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { type: 'separator' },
      { role: 'togglefullscreen' },
      ...(parts.isPackaged ? [] : developerItems()),
    ]),
    { ...menu(DESKTOP_WORDS.window, windowItems(isMac)), role: 'window' },
    { ...menu(DESKTOP_WORDS.help, isMac ? [licences] : [licences, about]), role: 'help' },
  ];
}

function appMenu(about: MenuItemConstructorOptions): MenuItemConstructorOptions {
  const submenu: Items = [
    about,
    { type: 'separator' },
    { role: 'services' },
    { type: 'separator' },
    { role: 'hide' },
    { role: 'hideOthers' },
    { role: 'unhide' },
    { type: 'separator' },
    { role: 'quit' },
  ];
  return { label: DESKTOP_WORDS.name, submenu };
}

function fileItems({ openWindow, showJournals }: MenuParts, isMac: boolean): Items {
  return [
    { label: WINDOW_WORDS.openInstructor, click: () => openWindow('instructor') },
    { label: WINDOW_WORDS.openLearners, click: () => openWindow('learners') },
    { type: 'separator' },
    { label: DESKTOP_WORDS.showJournals, click: showJournals },
    { type: 'separator' },
    isMac ? { role: 'close' } : { role: 'quit' },
  ];
}

function windowItems(isMac: boolean): Items {
  return isMac
    ? [{ role: 'minimize' }, { role: 'zoom' }, { type: 'separator' }, { role: 'front' }]
    : [{ role: 'minimize' }, { role: 'close' }];
}

function developerItems(): Items {
  return [{ type: 'separator' }, { role: 'reload' }, { role: 'toggleDevTools' }];
}
