import type { Tolerance } from '../journal.ts';
import { exactTiming, isCoordinated } from '../scoring/cycle-row.ts';
import { faultsOf } from '../scoring/faults.ts';
import type { BoutRow } from '../scoring/report.ts';
import { toMs, type Us } from '../units.ts';
import { FAULT_WORDS, SWITCH_MISSED_IT } from './english.ts';
import { formatNumber } from './format.ts';

export const ROW_WORDS = {
  inPlace: 'three compressions and a breath, in place',
  notInPlace: 'not coordinated',
  /** Said of the sheet, before a row is chosen. */
  choose: 'Up and down arrows choose a row, or point at one: its figures stand here.',
  rowsInList: 'Rows of the sheet',
  /** What the instructor can do with a chosen row, and take back. */
  leaveOut: 'The switch missed it: leave it out',
  count: 'It counts after all',
  leaveOutKey: 'M',
} as const;

/** What happened in a row, in words. */
export function rowHappened(row: BoutRow, tolerance: Tolerance): string {
  if (row.isLeftOut) return SWITCH_MISSED_IT;
  const faults = faultsOf(row, tolerance).map((fault) => FAULT_WORDS[fault]);
  if (faults.length > 0) return faults.join(', ');
  return isCoordinated(row, tolerance) ? ROW_WORDS.inPlace : ROW_WORDS.notInPlace;
}

/** "Cycle 12, at 23.4 s: breath too soon". `index` counts the drill's rows from 0. */
export function rowTitle(row: BoutRow, index: number, tolerance: Tolerance): string {
  return `Cycle ${index + 1}, at ${formatNumber(toMs(row.startUs) / 1000, 1)} s: ${rowHappened(row, tolerance)}`;
}

/** A row's figures for the instructor, in ms, each with its ideal. */
export function rowFigures(row: BoutRow): string[] {
  const beat = row.idealUs / 4;
  const timing = exactTiming(row);
  const length = `length ${ms(row.lengthUs)} (ideal ${ms(row.idealUs)})`;
  if (timing === null) {
    const { compressions, breaths } = row;
    return [
      length,
      `${counted(compressions.length, 'compression')}, ${counted(breaths.length, 'breath')} (ideal 3 and 1)`,
      `compressions at ${compressions.map(({ onUs }) => formatNumber(toMs(onUs), 0)).join(', ')} ms`,
      ...(breaths.length === 0
        ? []
        : [`breaths at ${breaths.map(({ onUs }) => formatNumber(toMs(onUs), 0)).join(', ')} ms`]),
      ...clashFigures(row),
    ];
  }
  const { firstIntervalUs, secondIntervalUs, lagUs, breathUs } = timing;
  return [
    length,
    `between compressions ${ms(firstIntervalUs)} and ${ms(secondIntervalUs)} (ideal ${ms(beat)})`,
    `third compression to breath ${ms(lagUs)} (ideal ${ms(beat)})`,
    `breath to the next “one” ${ms(row.lengthUs - breathUs)} (ideal ${ms(beat)})`,
    ...clashFigures(row),
  ];
}

function clashFigures({ clash }: BoutRow): string[] {
  return clash.overlapUs === 0 ? [] : [`compression and breath share ${ms(clash.overlapUs)} (ideal 0 ms)`];
}

function ms(us: Us): string {
  return `${formatNumber(toMs(us), 0)} ms`;
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}
