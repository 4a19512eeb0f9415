import { dirname } from 'node:path';
import type { Disk } from '../disk.ts';
import { codeOf } from '../disk-failure.ts';
import { writeWhole } from '../journal-file.ts';

/** What a file being replaced is written to first: never a journal's name, so that nobody takes half of one for a journal. */
export const REPLACING_SUFFIX = '.part';

/**
 * Writes a file anew, whole or not at all: beside it, flushed, then renamed, then the folder flushed. Rejects with the system's error;
 * the file is then as it was, or, where only the folder's flush failed, as it was to be.
 */
export async function replaceFile(disk: Disk, path: string, bytes: Uint8Array): Promise<void> {
  const fresh = `${path}${REPLACING_SUFFIX}`;
  await removeIfThere(disk, fresh);
  try {
    const file = await disk.create(fresh);
    try {
      await writeWhole(file, bytes, 0);
      await file.syncAll();
    } finally {
      await file.close();
    }
    await disk.rename(fresh, path);
  } catch (error) {
    await removeIfThere(disk, fresh).catch(() => undefined);
    throw error;
  }
  await disk.syncFolder(dirname(path));
}

/** A file that is gone already is no failure. */
export async function removeIfThere(disk: Disk, path: string): Promise<void> {
  try {
    await disk.remove(path);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}

/** A file's bytes, all of them; rejects when it cannot be read. */
export async function readWhole(disk: Disk, path: string, end?: number): Promise<Buffer> {
  const parts: Uint8Array[] = [];
  for await (const part of disk.read(path, end)) parts.push(part);
  return Buffer.concat(parts);
}
