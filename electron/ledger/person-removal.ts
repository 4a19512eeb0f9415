import { dirname, join } from 'node:path';
import { withoutPerson } from '../../machines/class/class-changes.ts';
import type { Removal } from '../../machines/ledger/ledger-requests.ts';
import { personKey } from '../../machines/ledger/person-name.ts';
import { lineWithoutPerson } from '../../machines/ledger/typed-texts.ts';
import type { ClassStore } from '../class-store.ts';
import type { Failure, Result, StationSettings } from '../contract.ts';
import type { Disk } from '../disk.ts';
import { changeFailure, codeOf } from '../disk-failure.ts';
import type { JournalHost } from '../journal-host.ts';
import { scanJournal } from '../journal-text.ts';
import { rewriteJournal } from './journal-rewrite.ts';
import { filesNaming, isNamedIn } from './name-search.ts';
import { REPLACING_SUFFIX } from './replace-file.ts';

export type RemovalParts = {
  disk: Disk;
  folder: string;
  dataFolder: string;
  host: Pick<JournalHost, 'ledger' | 'index' | 'openFiles' | 'letGo'>;
  settings: {
    load(): Promise<StationSettings | null>;
    save(settings: StationSettings): Promise<Result<null>>;
  };
  classes: Pick<ClassStore, 'load' | 'save'>;
};

/**
 * Takes a person out of everything the station keeps. In journals they are "someone" from then on: every press stays, since
 * the partner's figures are made of both. Notes and torn text of their drills are emptied. A journal in which nobody is left
 * is taken away. The index goes first and is made anew, so that a removal cut short has left nothing that looks done; asked
 * again, it goes on where it was. Journals that are damaged or a newer release's are left, and named.
 */
export async function removePersonFrom(parts: RemovalParts, name: string): Promise<Result<Removal>> {
  const { disk, folder, dataFolder, host } = parts;
  let drills = 0;
  let removedDrills = 0;
  try {
    await host.index.hold();
    const open = host.openFiles();
    for (const fileName of await host.index.fileNames()) {
      if (open.has(fileName) || !(await isNamedIn(disk, join(folder, fileName), name))) continue;
      const done = await removeFromJournal(parts, fileName, name);
      if (!done.ok) {
        if (done.code === 'bad-line' || done.code === 'newer-version') continue;
        return partly(done, drills + removedDrills);
      }
      if (done.value === 'emptied') removedDrills += 1;
      else if (done.value === 'renamed') drills += 1;
    }
    for (const forget of [forgetInSettings, forgetInClass]) {
      const forgotten = await forget(parts, name);
      if (!forgotten.ok) return partly(forgotten, drills + removedDrills);
    }
    await removeLeftovers(disk, folder, name);
    if (dataFolder !== folder) await removeLeftovers(disk, dataFolder, name);
    return { ok: true, value: { drills, removedDrills, leftIn: await filesNaming(disk, dataFolder, name) } };
  } catch (error) {
    return partly(changeFailure(error), drills + removedDrills);
  } finally {
    // What was changed is known to be so before an index is kept again.
    host.index.expire();
    await host.ledger();
    await host.index.release();
  }
}

async function removeFromJournal(
  { disk, folder, host }: RemovalParts,
  fileName: string,
  name: string,
): Promise<Result<'renamed' | 'emptied' | 'untouched'>> {
  const path = join(folder, fileName);
  const { read } = await scanJournal(disk.read(path));
  const people = read.ok ? Object.values(read.journal.open.people) : [];
  const others = people.filter((other) => personKey(other) !== personKey(name));
  const isTheirs = others.length < people.length;
  host.letGo(fileName);
  if (isTheirs && others.every((other) => personKey(other) === null)) {
    await disk.remove(path);
    await disk.syncFolder(dirname(path));
    return { ok: true, value: 'emptied' };
  }
  const done = await rewriteJournal(disk, folder, fileName, (line) =>
    lineWithoutPerson(line, name, isTheirs),
  );
  return done.ok ? { ok: true, value: done.value ? 'renamed' : 'untouched' } : done;
}

async function forgetInSettings({ settings }: RemovalParts, name: string): Promise<Result<null>> {
  const kept = await settings.load();
  if (kept === null) return { ok: true, value: null };
  const without = (other: string) => (personKey(other) === personKey(name) ? '' : other);
  const people = { A: without(kept.people.A), B: without(kept.people.B) };
  if (people.A === kept.people.A && people.B === kept.people.B) return { ok: true, value: null };
  return await settings.save({ ...kept, people });
}

async function forgetInClass({ classes }: RemovalParts, name: string): Promise<Result<null>> {
  const kept = await classes.load();
  // A newer release's is left alone, and named among the files that still have the name.
  if (!kept.ok) return kept.code === 'newer-version' ? { ok: true, value: null } : kept;
  if (kept.value === null) return { ok: true, value: null };
  const without = withoutPerson(kept.value, name);
  return without === kept.value ? { ok: true, value: null } : await classes.save(without);
}

/** Copies of settings and of the class that were put aside, and files that a power cut left half written. */
const LEFTOVER = /^(?:settings|class)\.json\..+$|\.new$/;

async function removeLeftovers(disk: Disk, folder: string, name: string): Promise<void> {
  for (const one of await namesIn(disk, folder)) {
    const isLeftover = LEFTOVER.test(one) || one.endsWith(REPLACING_SUFFIX);
    if (!isLeftover || !(await isNamedIn(disk, join(folder, one), name))) continue;
    await disk.remove(join(folder, one));
    await disk.syncFolder(folder);
  }
}

async function namesIn(disk: Disk, folder: string): Promise<readonly string[]> {
  try {
    return await disk.list(folder);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return [];
    throw error;
  }
}

function partly(failure: Failure, done: number): Failure {
  if (done === 0) return failure;
  return {
    ...failure,
    message: `${failure.message}; the name is gone from ${done} drills: ask again for the others`,
  };
}
