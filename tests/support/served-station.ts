import { randomUUID } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { FIRST_SETTINGS } from '../../electron/contract.ts';
import { nodeDisk } from '../../electron/disk.ts';
import { makeHandlers } from '../../electron/handlers.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { type Loopback, startLoopback } from '../../electron/loopback.ts';
import { JOURNAL_SUFFIX } from '../../machines/journal.ts';
import type { Journal } from '../../machines/journal-reader.ts';
import { readJournal } from '../../machines/journal-reader.ts';
import { storesIn } from './stores.ts';

export type ServedStation = {
  loopback: Loopback;
  host: JournalHost;
  /** Journals are in a folder of it, beside the settings. */
  folder: string;
  journalFolder: string;
  mistakes: unknown[];
  /** The only journal in the folder, as its file stands. */
  readOnlyJournal(): Promise<{ fileName: string; journal: Journal }>;
  close(): Promise<void>;
};

/**
 * The real station over loopback, on the built page unless told another, in a folder of its own. Needs no test runner.
 * Its cautions have been read, unless it is to be as it is at its very first start.
 */
export async function serveStation(
  pageFolder: string = resolve('dist/renderer'),
  { isFresh = false }: { isFresh?: boolean } = {},
): Promise<ServedStation> {
  const folder = await mkdtemp(join(tmpdir(), 'antiphon-station-'));
  const journalFolder = join(folder, 'journals');
  const mistakes: unknown[] = [];
  const host = new JournalHost({
    disk: nodeDisk,
    folder: journalFolder,
    newId: randomUUID,
    now: () => new Date(),
  });
  const stores = storesIn(folder, host);
  if (!isFresh) await stores.settings.save({ ...FIRST_SETTINGS, cautionsReadAt: '2026-03-02T09:00:00.000Z' });
  const facts = { journalFolder, shell: 'browser', version: '0.0.0' } as const;
  const loopback = await startLoopback({
    pageFolder,
    handlersFor: (isAllowed) =>
      makeHandlers({
        host,
        ...stores,
        facts,
        isAllowed,
        report: (error) => mistakes.push(error),
      }),
    onLinesWritten: (listener) => host.onLinesWritten(listener),
    windows: host,
  });
  return {
    loopback,
    host,
    folder,
    journalFolder,
    mistakes,
    readOnlyJournal: async () => {
      const names = (await readdir(journalFolder)).filter((name) => name.endsWith(JOURNAL_SUFFIX));
      const [fileName] = names;
      if (fileName === undefined || names.length > 1) throw new Error(`${names.length} journals, not one`);
      const read = readJournal(await readFile(join(journalFolder, fileName), 'utf8'));
      if (!read.ok) throw new Error(`${fileName}:${read.error.line}: ${read.error.problem}`);
      return { fileName, journal: read.journal };
    },
    close: async () => {
      await loopback.close();
      await host.leave();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
