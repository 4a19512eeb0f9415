import { join } from 'node:path';
import { withPersonRenamed } from '../../machines/class/class-changes.ts';
import { filterEntries, type LedgerPerson, peopleOf } from '../../machines/ledger/filter.ts';
import type { LedgerEntry } from '../../machines/ledger/ledger-entry.ts';
import type {
  Filing,
  LedgerPart,
  LedgerQuery,
  NameCorrection,
  Removal,
} from '../../machines/ledger/ledger-requests.ts';
import { personKey } from '../../machines/ledger/person-name.ts';
import { type PersonPage, personPageOf } from '../../machines/ledger/person-page.ts';
import type { Failure, Result } from '../contract.ts';
import type { Disk } from '../disk.ts';
import { changeFailure } from '../disk-failure.ts';
import { noSuchDrill } from '../journal-folder.ts';
import type { JournalHost } from '../journal-host.ts';
import { rewriteJournal } from './journal-rewrite.ts';
import { filesNaming } from './name-search.ts';
import { type RemovalParts, removePersonFrom } from './person-removal.ts';

export type LedgerParts = RemovalParts & {
  disk: Disk;
  /** Of the journals. */
  folder: string;
  /** Of everything that the station keeps: what is searched for a name. */
  dataFolder: string;
  host: Pick<JournalHost, 'ledger' | 'index' | 'openFiles' | 'runningNames' | 'letGo' | 'changeClosed'>;
};

/** Looking back over every drill of the station, and the few changes that are made to journals afterwards, one at a time. */
export class Ledger {
  private readonly parts: LedgerParts;

  constructor(parts: LedgerParts) {
    this.parts = parts;
  }

  async list({ filter, from, count }: LedgerQuery): Promise<Result<LedgerPart>> {
    const listed = await this.parts.host.ledger();
    if (!listed.ok) return listed;
    const { unread, leftAlone } = listed.value;
    const wanted = filterEntries(listed.value.entries, filter);
    const entries = wanted.slice(from, from + count);
    return { ok: true, value: { entries, total: wanted.length, unread, leftAlone } };
  }

  async people(): Promise<Result<readonly LedgerPerson[]>> {
    const listed = await this.parts.host.ledger();
    return listed.ok ? { ok: true, value: peopleOf(listed.value.entries) } : listed;
  }

  async person(name: string, intervalDays: number | null): Promise<Result<PersonPage | null>> {
    const listed = await this.parts.host.ledger();
    if (!listed.ok) return listed;
    return { ok: true, value: personPageOf(listed.value.entries, name, intervalDays) };
  }

  /** Gives a drill a title and puts it away or back: kept in its open line, so that it goes where the journal goes. */
  file({ drillId, title, archived }: Filing): Promise<Result<null>> {
    return this.parts.host.changeClosed(async () => {
      const found = await this.find(drillId);
      if (!found.ok) return found;
      const filed = { title: title === null || title.trim() === '' ? null : title.trim(), archived };
      const isPlain = filed.title === null && !archived;
      return nothing(
        await this.rewrite(found.value.fileName, ({ filed: _before, ...open }) =>
          isPlain ? open : { ...open, filed },
        ),
      );
    });
  }

  /** Puts right a wrong name, in one drill or in all; in none if it cannot be in one. Notes stay as they were written. */
  renamePerson({ from, to, drillId }: NameCorrection): Promise<Result<{ drills: number }>> {
    return this.parts.host.changeClosed(async () => {
      const fromKey = personKey(from);
      const toKey = personKey(to);
      if (fromKey === null || toKey === null) return refuse('bad-argument', 'a name is missing');
      const listed = await this.parts.host.ledger('all');
      if (!listed.ok) return listed;
      const has = ({ names }: LedgerEntry, key: string) =>
        Object.values(names).some((name) => personKey(name) === key);
      const isMeant = (one: LedgerEntry) =>
        has(one, fromKey) && (drillId === null || one.drillId === drillId);
      const meant = listed.value.entries.filter(isMeant);
      const open = this.parts.host.openFiles();
      if (meant.some(({ fileName }) => open.has(fileName))) return stillRunning();
      if (fromKey !== toKey && meant.some((entry) => has(entry, toKey)))
        return refuse('bad-argument', 'in one of these drills the other person has that name already');
      let drills = 0;
      for (const { fileName } of meant) {
        const renamed = await this.rewrite(fileName, (line) => ({
          ...line,
          people: mapNames(line.people, (name) => (personKey(name) === fromKey ? to.trim() : name)),
        }));
        if (!renamed.ok) return partly(renamed, drills, meant.length);
        drills += 1;
      }
      // Set-up would else offer the wrong name again, and save it with the next drill.
      const isGone = !listed.value.entries.some((one) => has(one, fromKey) && !meant.includes(one));
      const corrected = isGone ? await this.correctOthers(from, to.trim()) : nothing(listed);
      return corrected.ok ? { ok: true, value: { drills } } : partly(corrected, drills, meant.length);
    });
  }

  /** Takes a person out of every journal; see `person-removal.ts`. */
  removePerson(name: string): Promise<Result<Removal>> {
    return this.parts.host.changeClosed(async () => {
      const key = personKey(name);
      if (key === null) return refuse('bad-argument', 'a name is missing');
      if (this.parts.host.runningNames().some((running) => personKey(running) === key)) return stillRunning();
      return await removePersonFrom(this.parts, name);
    });
  }

  /** Takes a drill's journal away, for good. */
  removeDrill(drillId: string): Promise<Result<null>> {
    return this.parts.host.changeClosed(async () => {
      const found = await this.find(drillId);
      if (!found.ok) return found;
      const { disk, folder, host } = this.parts;
      const listed = await host.ledger('all');
      if (!listed.ok) return listed;
      try {
        // A copy that somebody made in the folder is the same drill.
        for (const { fileName } of listed.value.entries.filter((one) => one.drillId === drillId)) {
          host.letGo(fileName);
          await disk.remove(join(folder, fileName));
        }
        await disk.syncFolder(folder);
        await host.ledger();
        return { ok: true, value: null };
      } catch (error) {
        return changeFailure(error);
      }
    });
  }

  /** The files of the station's folder in which a name stands: the proof of a removal. */
  async search(name: string): Promise<Result<{ files: readonly string[] }>> {
    try {
      return { ok: true, value: { files: await filesNaming(this.parts.disk, this.parts.dataFolder, name) } };
    } catch (error) {
      return changeFailure(error);
    }
  }

  private async correctOthers(from: string, to: string): Promise<Result<null>> {
    const { classes } = this.parts;
    const kept = await classes.load();
    if (kept.ok && kept.value !== null) {
      const after = withPersonRenamed(kept.value, from, to);
      const saved = after === kept.value ? nothing(kept) : await classes.save(after);
      if (!saved.ok) return saved;
    }
    return await this.correctSettings(personKey(from), to);
  }

  private async correctSettings(fromKey: string | null, to: string): Promise<Result<null>> {
    const { settings } = this.parts;
    const kept = await settings.load();
    if (kept === null) return { ok: true, value: null };
    const put = (name: string) => (personKey(name) === fromKey ? to : name);
    const people = { A: put(kept.people.A), B: put(kept.people.B) };
    if (people.A === kept.people.A && people.B === kept.people.B) return { ok: true, value: null };
    return await settings.save({ ...kept, people });
  }

  private async find(drillId: string): Promise<Result<LedgerEntry>> {
    const listed = await this.parts.host.ledger('all');
    if (!listed.ok) return listed;
    const entry = listed.value.entries.find((one) => one.drillId === drillId);
    if (entry === undefined) return noSuchDrill();
    return this.parts.host.openFiles().has(entry.fileName) ? stillRunning() : { ok: true, value: entry };
  }

  private async rewrite(
    fileName: string,
    change: (open: OpenRecord) => OpenRecord,
  ): Promise<Result<boolean>> {
    const { disk, folder, host } = this.parts;
    host.letGo(fileName);
    const done = await rewriteJournal(disk, folder, fileName, (line, index) =>
      index === 0 ? JSON.stringify(change(JSON.parse(line) as OpenRecord)) : line,
    );
    host.index.expire();
    return done;
  }
}

/** An open line as it stands in the file, with what this version does not know. */
type OpenRecord = Record<string, unknown>;

function mapNames(people: unknown, change: (name: string) => string): unknown {
  if (typeof people !== 'object' || people === null) return people;
  return Object.fromEntries(
    Object.entries(people).map(([person, name]) => [person, typeof name === 'string' ? change(name) : name]),
  );
}

function nothing(result: Result<unknown>): Result<null> {
  return result.ok ? { ok: true, value: null } : result;
}

function partly(failure: Failure, done: number, all: number): Failure {
  if (done === 0) return failure;
  return {
    ...failure,
    message: `${failure.message}; ${done} of ${all} drills were changed before: ask again`,
  };
}

function stillRunning(): Failure {
  return refuse('not-allowed', 'the drill is still running: finish it first');
}

function refuse(code: Failure['code'], message: string): Failure {
  return { ok: false, code, message };
}
