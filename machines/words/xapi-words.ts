import type { Rig, Roles } from '../journal.ts';
import { EXPORT_CAUTIONS } from './export-columns.ts';

const ROLE_NAMES: Record<keyof Roles, string> = { compressor: 'compressions', ventilator: 'breaths' };

/** What a learning record store shows of an activity, which is a role on a rig. */
export function xapiActivityWords(role: keyof Roles, rig: Rig): { name: string; description: string } {
  const { purpose, newlyBorn, timing, tolerances, rhythm } = EXPORT_CAUTIONS;
  const what = `Giving the ${ROLE_NAMES[role]} of the newborn’s 3:1, as one of a pair.`;
  const cautions = [purpose, newlyBorn, timing, tolerances, ...(rig === 'rhythm' ? [rhythm] : [])];
  return {
    name: `Newborn 3:1, ${rig} rig: ${ROLE_NAMES[role]}`,
    description: [what, ...cautions].join(' '),
  };
}
