import { posix, win32 } from 'node:path';

export type FolderFacts = {
  platform: NodeJS.Platform;
  home: string;
  env: Readonly<Record<string, string | undefined>>;
};

/** Where this user's journals and settings are kept: `ANTIPHON_FOLDER`, or the platform's own place for such things. */
export function dataFolder({ platform, home, env }: FolderFacts): string {
  if (env.ANTIPHON_FOLDER) return env.ANTIPHON_FOLDER;
  if (platform === 'win32')
    return win32.join(env.LOCALAPPDATA || win32.join(home, 'AppData', 'Local'), 'Antiphon');
  if (platform === 'darwin') return posix.join(home, 'Library', 'Application Support', 'Antiphon');
  return posix.join(env.XDG_DATA_HOME || posix.join(home, '.local', 'share'), 'antiphon');
}
