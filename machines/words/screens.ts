/** Words that several screens share, and those of the window before any screen is there. */
export const SCREEN_WORDS = {
  product: 'Antiphon',
  oneMoment: 'One moment …',
  setUp: 'Set-up',
  floor: 'Floor',
  debrief: 'Debrief',
  ledger: 'Ledger',
  noBridgeTitle: 'This window has lost its station',
  noBridge:
    'The page was opened by itself, or the station that served it has ended. Start it with “npm start” and use the window that opens; nothing that was saved is lost.',
  brokenTitle: 'This window has stopped',
  broken:
    'Something in the window went wrong. What was saved is in the journal. Reload the window (F5) to go back to Set-up; the drill is then kept as it is.',
  key: 'key',
} as const;

/** Why something could not be done, with the host's own words. */
export const PROBLEM_WORDS = {
  notOpened: (message: string) => `That did not work: ${message}.`,
  troubleSaving: (message: string) =>
    `Not saved yet: ${message}. Every press is kept in this window and tried again; do not close it.`,
  troubleEnded: (message: string) =>
    `Lines can no longer be saved: ${message}. What is on the disk stays as it is.`,
  refused: (count: number) =>
    count === 1
      ? 'One line was refused and is not in the journal.'
      : `${count} lines were refused and are not in the journal.`,
} as const;

/** Names of keys that print no letter, by physical code. */
const KEY_NAMES: Record<string, string> = {
  Space: 'Space',
  Period: '.',
  Comma: ',',
  Slash: '/',
  Backslash: '\\',
  IntlBackslash: '<',
  Semicolon: ';',
  Quote: '’',
  BracketLeft: '[',
  BracketRight: ']',
  Minus: '-',
  Equal: '=',
  Backquote: '`',
  ArrowUp: 'Up',
  ArrowDown: 'Down',
  ArrowLeft: 'Left',
  ArrowRight: 'Right',
  PageUp: 'Page up',
  PageDown: 'Page down',
};

/** What to call a key: what the keyboard's layout prints on it, if that is known, else its US name. */
export function keyName(code: string, printed?: string): string {
  if (printed !== undefined && printed.trim() !== '') return printed.toUpperCase();
  const button = /^PadButton(\d+)$/.exec(code)?.[1];
  if (button !== undefined) return `pad button ${button}`;
  return KEY_NAMES[code] ?? code.replace(/^Key/, '').replace(/([a-z])([A-Z])/g, '$1 $2');
}
