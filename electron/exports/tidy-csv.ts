import type { OpenLine } from '../../machines/journal.ts';
import type { Journal } from '../../machines/journal-reader.ts';
import { type DrillLists, drillListsOf, type ListedPress } from '../../machines/press-list.ts';
import { rigOfStretch } from '../../machines/rig-check/rig-check.ts';
import { exactTiming, isCoordinated } from '../../machines/scoring/cycle-row.ts';
import { faultsOf } from '../../machines/scoring/faults.ts';
import { pausesOf } from '../../machines/scoring/figures.ts';
import type { BoutRow } from '../../machines/scoring/report.ts';
import { toMs } from '../../machines/units.ts';
import {
  type ColumnWords,
  CYCLE_COLUMN_WORDS,
  type CycleColumn,
  DICTIONARY_COLUMNS,
  PRESS_COLUMN_WORDS,
  type PressColumn,
} from '../../machines/words/export-columns.ts';
import { csvRecord } from './csv.ts';
import type { ExportFile } from './export-file.ts';
import { type Columns, tableCsv } from './table-csv.ts';

/** A drill as tidy tables: a row a press, a row a complete cycle, and what each column means. */
export function tidyCsvFiles(stem: string, journal: Journal): ExportFile[] {
  const lists = drillListsOf(journal);
  const presses = `${stem}_presses.csv`;
  const cycles = `${stem}_cycles.csv`;
  return [
    { path: [presses], text: pressesCsv(journal.open, lists) },
    { path: [cycles], text: cyclesCsv(journal.open, lists) },
    { path: [`${stem}_dictionary.csv`], text: dictionaryCsv(presses, cycles) },
  ];
}

function pressesCsv(open: OpenLine, { presses }: DrillLists): string {
  type Row = { press: ListedPress; number: number };
  const columns: Columns<PressColumn, Row> = {
    drill_id: () => open.id,
    press: ({ number }) => number,
    counts: ({ press }) => press.counts,
    bout: ({ press }) => fromOne(press.bout),
    cycle: ({ press }) => fromOne(press.cycle),
    place: ({ press }) => fromOne(press.place),
    role: ({ press }) => press.role,
    person: ({ press }) => press.person,
    name: ({ press }) => open.people[press.person],
    switch: ({ press }) => press.switch,
    onset_ms: ({ press }) => press.onMs,
    release_ms: ({ press }) => press.offMs,
    length_ms: ({ press }) => (press.isMeasured ? lengthMs(press) : null),
    measured: ({ press }) => press.isMeasured,
    guidance: ({ press }) => press.guidance,
    ideal_cycle_ms: ({ press }) => press.idealMs,
    technique: ({ press }) => press.technique,
    stance: ({ press }) => press.stance,
    rig: ({ press }) => press.rig,
    beat_asynchrony_ms: ({ press }) => press.asynchronyMs,
  };
  const rows = presses.map((press, index) => ({ press, number: index + 1 }));
  return tableCsv(PRESS_COLUMN_WORDS, columns, rows);
}

function cyclesCsv(open: OpenLine, { fold, rows }: DrillLists): string {
  const { bouts } = fold.tracker.book;
  const exact =
    <T>(pick: (timing: NonNullable<ReturnType<typeof exactTiming>>, row: BoutRow) => T) =>
    ({ row }: { row: BoutRow }): T | null => {
      const timing = exactTiming(row);
      return timing === null ? null : pick(timing, row);
    };
  const cells = rows.flatMap((row) => {
    const bout = bouts[row.bout];
    return bout === undefined ? [] : [{ row, bout }];
  });
  const columns: Columns<CycleColumn, (typeof cells)[number]> = {
    drill_id: () => open.id,
    bout: ({ row }) => row.bout + 1,
    cycle: ({ row }) => row.cycle + 1,
    compressor: ({ bout }) => bout.roles.compressor,
    ventilator: ({ bout }) => bout.roles.ventilator,
    technique: ({ bout }) => bout.technique,
    stance: ({ bout }) => bout.stance,
    rig: ({ bout }) => rigOfStretch(open, bout),
    start_ms: ({ row }) => toMs(row.startUs),
    length_ms: ({ row }) => toMs(row.lengthUs),
    ideal_cycle_ms: ({ row }) => toMs(row.idealUs),
    guidance: ({ row }) => row.guidance,
    guidance_changed: ({ row }) => row.guidanceChanged,
    left_out: ({ row }) => row.isLeftOut,
    compressions: ({ row }) => row.compressions.length,
    breaths: ({ row }) => row.breaths.length,
    exact: ({ row }) => exactTiming(row) !== null,
    coordinated: ({ row }) => isCoordinated(row, open.tolerance),
    faults: ({ row }) => faultsOf(row, open.tolerance).join('; '),
    interval_1_ms: exact(({ firstIntervalUs }) => toMs(firstIntervalUs)),
    interval_2_ms: exact(({ secondIntervalUs }) => toMs(secondIntervalUs)),
    breath_lag_ms: exact(({ lagUs }) => toMs(lagUs)),
    breath_lag_ratio: exact(({ firstIntervalUs, secondIntervalUs, lagUs }) =>
      firstIntervalUs + secondIntervalUs === 0 ? null : (2 * lagUs) / (firstIntervalUs + secondIntervalUs),
    ),
    breath_phase: exact(({ breathUs }, row) => (row.lengthUs === 0 ? null : breathUs / row.lengthUs)),
    restart_lag_ms: exact(({ breathUs }, row) => toMs(row.lengthUs - breathUs)),
    clashes: ({ row }) => row.clash.count,
    clashes_by_breath: ({ row }) => row.clash.byBreath,
    clashes_by_compression: ({ row }) => row.clash.byCompression,
    let_go_late: ({ row }) => row.clash.letGoLate,
    overlap_ms: ({ row }) => toMs(row.clash.overlapUs),
    pauses: ({ row }) => pausesOf(row).length,
    longest_pause_ms: ({ row }) => {
      const pauses = pausesOf(row);
      return pauses.length === 0 ? null : toMs(Math.max(...pauses));
    },
  };
  return tableCsv(CYCLE_COLUMN_WORDS, columns, cells);
}

function dictionaryCsv(presses: string, cycles: string): string {
  const records = (file: string, words: Readonly<Record<string, ColumnWords>>) =>
    Object.entries(words).map(([column, { meaning, unit, type, levels, emptyMeans, source }]) =>
      csvRecord([file, column, meaning, unit, type, levelsText(levels), emptyMeans, source]),
    );
  return [
    csvRecord(DICTIONARY_COLUMNS),
    ...records(presses, PRESS_COLUMN_WORDS),
    ...records(cycles, CYCLE_COLUMN_WORDS),
  ].join('');
}

function levelsText(levels: ColumnWords['levels']): string {
  return Object.entries(levels ?? {})
    .map(([level, meaning]) => `${level} = ${meaning}`)
    .join('; ');
}

function fromOne(index: number | null): number | null {
  return index === null ? null : index + 1;
}

/** In whole microseconds first, so that no digit is made up. */
function lengthMs({ onMs, offMs }: ListedPress): number {
  return toMs(Math.round((offMs - onMs) * 1000));
}
