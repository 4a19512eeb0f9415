import { formatLine, type RecoveredLine } from '../machines/journal.ts';
import type { Journal } from '../machines/journal-reader.ts';
import type { Ms } from '../machines/units.ts';
import type { Disk } from './disk.ts';
import { writeWhole } from './journal-file.ts';
import { type JournalScan, scanJournal } from './journal-text.ts';

/** What must be done to a journal whose host died: cut to a length in bytes, then append the text. */
type Mending = { cutTo: number; append: string };

/** Characters of a torn line that the `recovered` line keeps: the schema's longest text. */
const KEPT_CHARACTERS = 4000;

/**
 * What a journal needs before it can be appended to, or null for nothing. Trailing NULs and an unparsable last
 * line go, and are told of in a `recovered` line; a whole last line gets its newline. A journal that cannot be
 * read, or is of a newer version, is left alone. A closed one is mended too: remarks may be added to it.
 */
function planMending(scan: JournalScan): Mending | null {
  if (!scan.read.ok) return null;
  const cutBytes = scan.totalBytes - scan.goodBytes;
  const newline = scan.endsLine ? '' : '\n';
  if (cutBytes === 0) return newline === '' ? null : { cutTo: scan.goodBytes, append: newline };
  const line: RecoveredLine = {
    kind: 'recovered',
    at: lastAtMs(scan.read.journal),
    bytes: cutBytes,
    text: new TextDecoder().decode(scan.tornLine).slice(0, KEPT_CHARACTERS),
  };
  return { cutTo: scan.goodBytes, append: `${newline}${formatLine(line)}\n` };
}

/**
 * Reads a journal that nobody writes any more, mending it first where that is needed.
 * Where the disk does not let it be mended, it is given as it can be read. Rejects when it cannot be read at all.
 */
export async function recoverJournal(disk: Disk, path: string): Promise<JournalScan> {
  const { stamp } = await disk.factsOf(path);
  const scan = await scanJournal(disk.read(path));
  const mending = planMending(scan);
  if (mending === null) return scan;
  try {
    await mend(disk, path, mending, stamp);
  } catch {
    return scan;
  }
  return await scanJournal(disk.read(path));
}

/** Only the file that was scanned: where another was put in its place meanwhile, the places of this one's bytes would damage it. */
async function mend(disk: Disk, path: string, mending: Mending, stamp: string): Promise<void> {
  const file = await disk.mend(path);
  try {
    // Asked after it was opened: what is put in its place from now on is not what is written to.
    if ((await disk.factsOf(path)).stamp !== stamp) throw new Error('the journal has changed');
    await file.truncate(mending.cutTo);
    await writeWhole(file, Buffer.from(mending.append, 'utf8'), mending.cutTo);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** The time of a journal's last line that has one, in ms; 0 where none has. */
export function lastAtMs(journal: Journal): Ms {
  for (let index = journal.lines.length - 1; index >= 0; index -= 1) {
    const at = journal.lines[index]?.line.at;
    if (at !== undefined) return at;
  }
  return 0;
}
