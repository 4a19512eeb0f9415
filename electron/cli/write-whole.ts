import { randomUUID } from 'node:crypto';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** Writes a file whole or not at all: to a temporary file beside it, flushed, then renamed. What is wrong, or null. */
export async function writeWhole(path: string, text: string): Promise<string | null> {
  const temporary = temporaryFor(path);
  try {
    await writeTemporary(temporary, text);
    await rename(temporary, path);
    return null;
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    return describe(error);
  }
}

/**
 * Writes files that belong together, all or none: they are renamed only when every one of them stands on the disk and
 * none has a folder in its way; should a rename fail even then, those before it are there, each of them whole. What is
 * wrong with which, or null.
 */
export async function writeAllWhole(
  files: readonly { path: string; text: string }[],
): Promise<string | null> {
  const staged: { path: string; temporary: string }[] = [];
  let path = '';
  try {
    for (const file of files) {
      path = file.path;
      const temporary = temporaryFor(path);
      staged.push({ path, temporary });
      await writeTemporary(temporary, file.text);
      if (await isFolder(path)) throw Object.assign(new Error(path), { code: 'EISDIR' });
    }
    for (const one of staged) {
      path = one.path;
      await rename(one.temporary, path);
    }
    return null;
  } catch (error) {
    for (const { temporary } of staged) await rm(temporary, { force: true }).catch(() => undefined);
    return `${path}: ${describe(error)}`;
  }
}

function temporaryFor(path: string): string {
  return join(dirname(path), `.${randomUUID()}.part`);
}

async function writeTemporary(temporary: string, text: string): Promise<void> {
  await mkdir(dirname(temporary), { recursive: true });
  const file = await open(temporary, 'wx');
  try {
    await file.writeFile(text);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
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
