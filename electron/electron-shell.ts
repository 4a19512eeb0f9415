import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { mkdir, rm, stat, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

/** After this long a download of Electron's runtime is given up (issue's "short limit"; our choice). */
export const DOWNLOAD_LIMIT_MS = 20_000;
/** For this long after a download that failed none is tried, so that a PC without network starts at once (our choice). */
const NEXT_TRY_AFTER_MS = 24 * 60 * 60 * 1000;

/** The folder of the electron package, or null when it is not installed. */
export function findElectronPackage(): string | null {
  try {
    return dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return null;
  }
}

/** Electron's executable, or null when the runtime is not on this computer. */
export function findElectronRuntime(packageFolder: string): string | null {
  try {
    const executable = join(packageFolder, 'dist', readFileSync(join(packageFolder, 'path.txt'), 'utf8'));
    return existsSync(executable) ? executable : null;
  } catch {
    return null;
  }
}

/** Runs the package's own installer, within a limit; true when the runtime is there afterwards. */
export async function downloadElectron(packageFolder: string, limitMs: number): Promise<boolean> {
  const child = spawn(process.execPath, [join(packageFolder, 'install.js')], { stdio: 'ignore' });
  const impatience = setTimeout(() => child.kill('SIGKILL'), limitMs);
  await new Promise<void>((resolve) => {
    child.once('exit', () => resolve());
    child.once('error', () => resolve());
  });
  clearTimeout(impatience);
  return findElectronRuntime(packageFolder) !== null;
}

/** Remembers that no download was to be had, so as not to wait for it at every start. */
export class DownloadMemory {
  private readonly path: string;

  constructor(dataFolder: string) {
    this.path = join(dataFolder, 'electron-not-to-be-had');
  }

  async isRecent(nowMs: number): Promise<boolean> {
    try {
      return nowMs - (await stat(this.path)).mtimeMs < NEXT_TRY_AFTER_MS;
    } catch {
      return false;
    }
  }

  async note(hasFailed: boolean): Promise<void> {
    await mkdir(dirname(this.path), { recursive: true, mode: 0o700 });
    if (hasFailed) await writeFile(this.path, '', { mode: 0o600 });
    else await rm(this.path, { force: true });
  }
}
