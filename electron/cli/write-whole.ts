import { randomUUID } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** Writes a file whole or not at all: to a temporary file beside it, flushed, then renamed. What is wrong, or null. */
export async function writeWhole(path: string, text: string): Promise<string | null> {
  const temporary = join(dirname(path), `.${randomUUID()}.part`);
  try {
    await mkdir(dirname(path), { recursive: true });
    const file = await open(temporary, 'wx');
    try {
      await file.writeFile(text);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
    return null;
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    return describe(error);
  }
}

function describe(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOSPC') return 'the disk is full: nothing was written';
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS')
    return 'no permission to write here: nothing was written';
  if (code === 'ENOTDIR' || code === 'EEXIST')
    return 'a part of this path is a file, not a folder: nothing was written';
  if (code === 'EISDIR') return 'this is a folder: nothing was written';
  return `could not be written (${code ?? 'unknown reason'})`;
}
