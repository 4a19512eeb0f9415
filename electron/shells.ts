/** Exit status of a station that found another one open on the same folder. */
export const ALREADY_OPEN_STATUS = 4;

/** What is known of the computer; `untried` until somebody looked. */
export type ShellFacts = {
  platform: NodeJS.Platform;
  isRoot: boolean;
  hasDisplay: boolean;
  /** Electron's runtime: there, not there but perhaps to be had, or not to be had (or it did not start). */
  electron: 'ready' | 'untried' | 'failed';
  /** The command of an installed Chromium, Chrome or Edge. */
  browser: string | null;
  /** apt-get on Debian or Ubuntu. */
  apt: 'untried' | 'failed' | 'absent';
};
export type ShellStep =
  | { kind: 'electron' }
  | { kind: 'download-electron' }
  | { kind: 'browser'; command: string }
  | { kind: 'install-chromium' }
  | { kind: 'serve' }
  | { kind: 'explain'; words: readonly string[] };

/** The next step towards a window. A step that fails changes the facts, and the question is asked again. */
export function chooseShell(facts: ShellFacts): ShellStep {
  if (!facts.hasDisplay) return { kind: 'serve' };
  if (facts.electron === 'ready') return { kind: 'electron' };
  if (facts.electron === 'untried') return { kind: 'download-electron' };
  if (facts.browser !== null) return { kind: 'browser', command: facts.browser };
  if (facts.platform === 'linux' && facts.isRoot && facts.apt === 'untried')
    return { kind: 'install-chromium' };
  return { kind: 'explain', words: howToGetAWindow(facts) };
}

/** False on a Linux without a screen; elsewhere there is always one to try. */
export function hasDisplay(
  platform: NodeJS.Platform,
  env: Readonly<Record<string, string | undefined>>,
): boolean {
  return platform !== 'linux' || Boolean(env.DISPLAY) || Boolean(env.WAYLAND_DISPLAY);
}

/** Where Chromium, Chrome and Edge are found, most wanted first. A name without a folder is looked for in the PATH. */
export function browserPlaces(
  platform: NodeJS.Platform,
  env: Readonly<Record<string, string | undefined>>,
): readonly string[] {
  if (platform === 'darwin') {
    const names = ['Google Chrome', 'Chromium', 'Microsoft Edge'];
    const folders = ['/Applications', ...(env.HOME ? [`${env.HOME}/Applications`] : [])];
    return names.flatMap((name) => folders.map((folder) => `${folder}/${name}.app/Contents/MacOS/${name}`));
  }
  if (platform === 'win32') {
    const folders = [env.ProgramFiles, env['ProgramFiles(x86)'], env.LOCALAPPDATA].filter((folder) =>
      Boolean(folder),
    );
    const paths = [
      'Google\\Chrome\\Application\\chrome.exe',
      'Chromium\\Application\\chrome.exe',
      'Microsoft\\Edge\\Application\\msedge.exe',
    ];
    return paths.flatMap((path) => folders.map((folder) => `${folder}\\${path}`));
  }
  return [
    'chromium',
    'google-chrome-stable',
    'google-chrome',
    'microsoft-edge-stable',
    'microsoft-edge',
    'chromium-browser',
  ];
}

function howToGetAWindow({ platform, apt }: ShellFacts): readonly string[] {
  const first =
    'Antiphon needs Electron’s runtime or a Chromium-family browser for its window, and found neither.';
  const electron = 'Or, where downloads are allowed: node node_modules/electron/install.js';
  const last = 'Then run “npm start” again.';
  if (platform === 'darwin')
    return [
      first,
      'Install Google Chrome (https://www.google.com/chrome/) or Microsoft Edge.',
      electron,
      last,
    ];
  if (platform === 'win32') {
    return [
      first,
      'Install Microsoft Edge (winget install Microsoft.Edge) or Google Chrome (winget install Google.Chrome).',
      electron,
      last,
    ];
  }
  if (apt !== 'absent')
    return [first, 'Install Chromium: sudo apt-get install --no-install-recommends chromium', electron, last];
  return [
    first,
    'Install Chromium: “dnf install chromium” (Fedora), “pacman -S chromium” (Arch), “zypper install chromium” (openSUSE).',
    electron,
    last,
  ];
}
