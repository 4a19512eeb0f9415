import type { StationSettings } from '../../electron/contract.ts';
import type { Disk } from '../../electron/disk.ts';
import { JournalHost } from '../../electron/journal-host.ts';
import { Ledger } from '../../electron/ledger/ledger.ts';
import type { ClassFile } from '../../machines/class/class-file.ts';
import { formatLine, type OpenLine } from '../../machines/journal.ts';
import { type RehearsalOptions, rehearse } from '../../machines/rehearsal/rehearse.ts';
import { makeIds, OPENED_AT, SETTINGS } from './drills.ts';

/** A host with its Ledger on a disk of any kind; the settings and the class are in memory. */
export function ledgerOn(disk: Disk, folder = '/journals', dataFolder = folder, newId = makeIds()) {
  const remembered = { settings: SETTINGS as StationSettings | null, class: null as ClassFile | null };
  const settings = {
    load: async () => remembered.settings,
    save: async (wanted: StationSettings) => {
      remembered.settings = wanted;
      return { ok: true, value: null } as const;
    },
  };
  const classes = {
    load: async () => ({ ok: true, value: remembered.class }) as const,
    save: async (wanted: ClassFile) => {
      remembered.class = wanted;
      return { ok: true, value: null } as const;
    },
  };
  const host = new JournalHost({ disk, folder, newId, now: () => new Date(OPENED_AT) });
  return { host, ledger: new Ledger({ disk, folder, dataFolder, host, settings, classes }), remembered };
}

/** A short synthetic drill's journal as it stands in its file, and the file's name. */
export function keptJournal(
  options: Partial<RehearsalOptions> & { seed: number },
  over: Partial<OpenLine> = {},
) {
  const { open, lines } = rehearse({ minutes: 0.2, plan: 'steady', ...options });
  const whole: OpenLine = { ...open, ...over };
  const text = [whole, ...lines].map((line) => `${formatLine(line)}\n`).join('');
  const when = whole.openedAt.slice(0, 19).replaceAll(':', '-');
  return { drillId: whole.id, fileName: `${when}Z-${whole.id.slice(0, 8)}.antiphon.jsonl`, text };
}
