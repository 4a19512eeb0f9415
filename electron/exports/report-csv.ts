import type { Person } from '../../machines/journal.ts';
import type { ScoredJournal } from '../../machines/replay.ts';
import type { Signature } from '../../machines/scoring/report.ts';
import { withCaution } from '../../machines/words/comparison-words.ts';
import { csvRecord } from './csv.ts';

/** The columns of a report in CSV: one figure a record; `value` is empty where there is none and `reason` says why. */
export const REPORT_CSV_HEADER = csvRecord([
  'file',
  'drill',
  'scope',
  'number',
  'person',
  'role',
  'figure',
  'value',
  'reason',
]);

type Place = {
  scope: 'drill' | 'bout' | 'person' | 'handover' | 'check' | 'ventilation' | 'comparison';
  number: number | '';
  person: Person | '';
  role: string;
};

/** Every figure of a drill as CSV records, without the header. Bouts, handovers, checks and comparisons are numbered from 1. */
export function reportCsv(fileName: string, { report }: ScoredJournal): string {
  const { people, signatures, ...drill } = report.drill;
  const records: string[] = [];
  const put = (place: Place, value: unknown): void => {
    for (const leaf of leavesOf(value, '')) {
      records.push(
        csvRecord([
          fileName,
          drill.id,
          place.scope,
          place.number,
          place.person,
          place.role,
          leaf.key,
          leaf.value,
          leaf.reason,
        ]),
      );
    }
  };
  put({ scope: 'drill', number: '', person: '', role: '' }, drill);
  for (const [index, bout] of report.bouts.entries())
    put({ scope: 'bout', number: index + 1, person: '', role: '' }, bout);
  for (const person of ['A', 'B'] as const) {
    put({ scope: 'person', number: '', person, role: '' }, { signature: withoutName(signatures[person]) });
    put({ scope: 'person', number: '', person, role: 'compressor' }, people[person].compressor);
    put({ scope: 'person', number: '', person, role: 'ventilator' }, people[person].ventilator);
  }
  for (const [index, handover] of report.handovers.entries()) {
    put({ scope: 'handover', number: index + 1, person: '', role: '' }, handover);
  }
  for (const [index, check] of report.checks.entries())
    put({ scope: 'check', number: index + 1, person: '', role: '' }, check);
  put({ scope: 'ventilation', number: '', person: '', role: '' }, report.ventilationStage);
  for (const [index, comparison] of report.comparisons.entries())
    put({ scope: 'comparison', number: index + 1, person: '', role: '' }, withCaution(comparison));
  return records.join('');
}

/** No one's name is in these records. */
function withoutName(signature: Signature | null): Omit<Signature, 'by'> | null {
  if (signature === null) return null;
  const { by: _by, ...rest } = signature;
  return rest;
}

type Leaf = { key: string; value: string | number; reason: string };

/** Walks a report's part down to its figures; keys are joined with dots, as design section 5 writes them. */
function leavesOf(value: unknown, key: string): Leaf[] {
  if (typeof value === 'number' || typeof value === 'string') return [{ key, value, reason: '' }];
  if (typeof value === 'boolean') return [{ key, value: String(value), reason: '' }];
  if (Array.isArray(value) && value.every((part) => typeof part === 'string'))
    return [{ key, value: value.join(' '), reason: '' }];
  if (Array.isArray(value)) return value.flatMap((part, index) => leavesOf(part, `${key}.${index + 1}`));
  if (typeof value !== 'object' || value === null) return [];
  if ('reason' in value && 'value' in value && value.value === null)
    return [{ key, value: '', reason: String(value.reason) }];
  return Object.entries(value).flatMap(([name, part]) =>
    leavesOf(part, key === '' ? name : `${key}.${name}`),
  );
}
