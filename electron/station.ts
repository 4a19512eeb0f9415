import { randomUUID } from 'node:crypto';
import { mkdir, readFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ClassStore } from './class-store.ts';
import type { StationFacts } from './contract.ts';
import { nodeDisk } from './disk.ts';
import { dataFolder } from './folders.ts';
import { JournalHost } from './journal-host.ts';
import { Ledger } from './ledger/ledger.ts';
import { PlanStore } from './plan-store.ts';
import { SettingsStore } from './settings-store.ts';
import { StandardStore } from './standard-store.ts';
import { takeStationLock } from './station-lock.ts';

/** The built page, beside the compiled host. */
export const PAGE_FOLDER = fileURLToPath(new URL('../renderer/', import.meta.url));

export type KeptInFolder = {
  host: JournalHost;
  ledger: Ledger;
  settings: SettingsStore;
  plans: PlanStore;
  standards: StandardStore;
  classes: ClassStore;
  /** Waits until everything taken in is on the disk, and lets the next station in. */
  leave(): Promise<void>;
};
export type Station = KeptInFolder & { facts: StationFacts; dataFolder: string };

/** Where this user's station keeps what it keeps. */
export function stationFolder(): string {
  return resolve(dataFolder({ platform: process.platform, home: homedir(), env: process.env }));
}

/** This user's station, or null when one is open already: two hosts must not write one folder. Rejects when the folder cannot be made. */
export async function openStation(shell: StationFacts['shell']): Promise<Station | null> {
  const folder = stationFolder();
  const kept = await openKept(folder);
  if (kept === null) return null;
  const journalFolder = journalFolderOf(folder);
  return { ...kept, facts: { journalFolder, shell, version: await readVersion() }, dataFolder: folder };
}

/** What a station's folder keeps, for this process alone; null when a station has it open. Rejects when the folder cannot be made. */
export async function openKept(folder: string): Promise<KeptInFolder | null> {
  const journalFolder = journalFolderOf(folder);
  await mkdir(journalFolder, { recursive: true, mode: 0o700 });
  const lock = await takeStationLock(folder);
  if (lock === null) return null;
  const host = new JournalHost({
    disk: nodeDisk,
    folder: journalFolder,
    newId: randomUUID,
    now: () => new Date(),
  });
  const settings = new SettingsStore(join(folder, 'settings.json'));
  const classes = new ClassStore(join(folder, 'class.json'));
  return {
    host,
    ledger: new Ledger({
      disk: nodeDisk,
      folder: journalFolder,
      dataFolder: folder,
      host,
      settings,
      classes,
    }),
    settings,
    plans: new PlanStore(join(folder, 'plans')),
    standards: new StandardStore(join(folder, 'standards')),
    classes,
    leave: async () => {
      await host.leave();
      await lock.release();
    },
  };
}

function journalFolderOf(folder: string): string {
  return join(folder, 'journals');
}

async function readVersion(): Promise<string> {
  const text = await readFile(new URL('../../package.json', import.meta.url), 'utf8');
  const stated: unknown = JSON.parse(text);
  const hasVersion = typeof stated === 'object' && stated !== null && 'version' in stated;
  return hasVersion ? String(stated.version) : 'unknown';
}
