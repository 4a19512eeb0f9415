import { join } from 'node:path';
import { MAX_LINE_BYTES } from '../../machines/journal.ts';
import { readJournal } from '../../machines/journal-reader.ts';
import type { Failure, Result } from '../contract.ts';
import type { Disk } from '../disk.ts';
import { changeFailure } from '../disk-failure.ts';
import { newerVersion } from '../journal-folder.ts';
import { recoverJournal } from '../journal-recovery.ts';
import { readWhole, replaceFile } from './replace-file.ts';

/**
 * Changes lines of a journal that nobody writes, by writing the file anew: whole as before or whole as wanted, whatever happens. Lines that
 * are not changed keep their bytes, and none is added or taken away. A journal that cannot be read, or is a newer release's, is
 * left alone. True: it was changed.
 */
export async function rewriteJournal(
  disk: Disk,
  folder: string,
  fileName: string,
  change: (line: string, index: number) => string,
): Promise<Result<boolean>> {
  const path = join(folder, fileName);
  try {
    const scan = await recoverJournal(disk, path);
    if (!scan.read.ok) return scan.read.error.newerVersion === true ? newerVersion() : damaged(fileName);
    // A torn end that could not be mended goes with the old file.
    const text = (await readWhole(disk, path, scan.goodBytes)).toString('utf8').replace(/^\uFEFF/, '');
    const lines = text.split('\n');
    if (lines.at(-1) === '') lines.pop();
    const changed = lines.map(change);
    if (changed.every((line, index) => line === lines[index])) return { ok: true, value: false };
    const problem = problemOf(changed);
    if (problem !== null) return { ok: false, code: 'bad-argument', message: problem };
    await replaceFile(disk, path, Buffer.from(`${changed.join('\n')}\n`, 'utf8'));
    return { ok: true, value: true };
  } catch (error) {
    return changeFailure(error);
  }
}

/** What is wrong with lines that were changed, or null: nothing that could not be read again is ever written. */
function problemOf(lines: readonly string[]): string | null {
  if (lines.some((line) => Buffer.byteLength(line) > MAX_LINE_BYTES))
    return `a line would be longer than ${MAX_LINE_BYTES} bytes: nothing was changed`;
  const read = readJournal(lines.join('\n'));
  if (read.ok) return null;
  return `${read.error.field ?? 'line'} ${read.error.problem}: nothing was changed`;
}

function damaged(fileName: string): Failure {
  return {
    ok: false,
    code: 'bad-line',
    message: `${fileName} has a line that is wrong, and is left untouched`,
  };
}
