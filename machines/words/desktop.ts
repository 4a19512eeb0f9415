import { CAUTIONS } from './english.ts';

/** Words of the packed app's menus, boxes and troubles: what the system shows, outside the page. */
export const DESKTOP_WORDS = {
  name: 'Antiphon',
  file: 'File',
  edit: 'Edit',
  view: 'View',
  window: 'Window',
  help: 'Help',
  showJournals: 'Show the journals’ folder',
  licences: 'Licences',
  about: 'About Antiphon',
  close: 'Close',
  cannotStart: 'Antiphon cannot start',
  goneTitle: 'The window has stopped',
  gone: 'The window stopped several times within a minute. What was saved of the drill is safe.',
  loadAnew: 'Load it anew',
  closeWindow: 'Close the window',
  busyTitle: 'The window does not answer',
  busy: 'You can wait, or load the window anew: a drill goes on in it from what is saved. What was pressed in the last moment may be lost.',
  wait: 'Wait',
} as const;

export type AboutFacts = { version: string; electron: string; chromium: string };

/** What the about box says below the name: cautions first, then the version, then whose it is. */
export function aboutWords({ version, electron, chromium }: AboutFacts): string {
  return [
    CAUTIONS.purpose,
    CAUTIONS.newlyBorn,
    `Version ${version}, on Electron ${electron} and Chromium ${chromium}.`,
    'MIT licence. It contains the work of others, under the licences that “Licences” shows.',
  ].join('\n\n');
}
