import { join } from 'node:path';
import { ClassStore } from '../../electron/class-store.ts';
import { type Disk, nodeDisk } from '../../electron/disk.ts';
import type { JournalHost } from '../../electron/journal-host.ts';
import { Ledger } from '../../electron/ledger/ledger.ts';
import { PlanStore } from '../../electron/plan-store.ts';
import { SettingsStore } from '../../electron/settings-store.ts';
import { StandardStore } from '../../electron/standard-store.ts';

/** What a station keeps in a folder beside its journals, and the ledger of those that this host writes. */
export function storesIn(folder: string, host: JournalHost, disk: Disk = nodeDisk) {
  const settings = new SettingsStore(join(folder, 'settings.json'));
  const classes = new ClassStore(join(folder, 'class.json'));
  return {
    ledger: new Ledger({
      disk,
      folder: join(folder, 'journals'),
      dataFolder: folder,
      host,
      settings,
      classes,
    }),
    settings,
    plans: new PlanStore(join(folder, 'plans')),
    standards: new StandardStore(join(folder, 'standards')),
    classes,
  };
}
