import { join } from 'node:path';
import { ClassStore } from '../../electron/class-store.ts';
import { PlanStore } from '../../electron/plan-store.ts';
import { SettingsStore } from '../../electron/settings-store.ts';
import { StandardStore } from '../../electron/standard-store.ts';

/** What a station keeps beside its journals, in a folder. */
export function storesIn(folder: string) {
  return {
    settings: new SettingsStore(join(folder, 'settings.json')),
    plans: new PlanStore(join(folder, 'plans')),
    standards: new StandardStore(join(folder, 'standards')),
    classes: new ClassStore(join(folder, 'class.json')),
  };
}
