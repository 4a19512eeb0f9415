import { join } from 'node:path';
import { isNameIn } from '../../machines/ledger/typed-texts.ts';
import type { Disk } from '../disk.ts';
import { readWhole } from './replace-file.ts';

/** The browser's own folder while its window is open: it holds no record, and goes with the window. In the folder itself, and nowhere deeper. */
const PASSING_FOLDER = /^window-/;

/**
 * The files of a folder, and of those in it, in which a name stands, in their texts or in their own names; each as a path from
 * the folder. Rejects when one cannot be read: what was not searched proves nothing.
 */
export async function filesNaming(disk: Disk, folder: string, name: string, isTop = true): Promise<string[]> {
  const found: string[] = [];
  for (const one of [...(await disk.list(folder))].sort()) {
    const path = join(folder, one);
    const { kind } = await disk.factsOf(path);
    if (kind === 'folder' && !(isTop && PASSING_FOLDER.test(one))) {
      for (const inner of await filesNaming(disk, path, name, false)) found.push(`${one}/${inner}`);
    } else if (kind === 'file' && (isNameIn(one, name) || (await isNamedIn(disk, path, name))))
      found.push(one);
  }
  return found;
}

/** Does the name stand in the file, in any capitals, coding of accents or JSON escapes? */
export async function isNamedIn(disk: Disk, path: string, name: string): Promise<boolean> {
  return isNameIn((await readWhole(disk, path)).toString('utf8'), name);
}
