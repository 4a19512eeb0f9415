import { describe, expect, it } from 'vitest';
import { scoreJournal } from '../../../machines/replay.ts';
import { exported, journalOf, richDrill } from '../../support/exported.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';
import { readCsv, readCsvRows } from '../../support/rfc4180.ts';

async function tables() {
  const { status, err, files } = await exported(richDrill(), '--to', 'csv');
  expect([status, err]).toEqual([0, '']);
  return files;
}

describe('a drill as tidy tables', () => {
  it('is three files that an RFC 4180 reader reads back, and the dictionary names their columns and no others', async () => {
    const files = await tables();
    expect(Object.keys(files).sort()).toEqual([
      'drill_cycles.csv',
      'drill_dictionary.csv',
      'drill_presses.csv',
    ]);
    const [presses = [], cycles = []] = ['drill_presses.csv', 'drill_cycles.csv'].map(
      (name) => readCsv(files[name] ?? '')[0],
    );
    const dictionary = readCsvRows(files['drill_dictionary.csv'] ?? '');
    expect(dictionary.map(({ file, column }) => [file, column])).toEqual([
      ...presses.map((column) => ['drill_presses.csv', column]),
      ...cycles.map((column) => ['drill_cycles.csv', column]),
    ]);
    expect([presses.length, cycles.length]).toEqual([20, 32]);
  });

  it('explains every column, and nothing stands in one that its dictionary does not allow', async () => {
    const files = await tables();
    for (const entry of readCsvRows(files['drill_dictionary.csv'] ?? '')) {
      const { file = '', column = '', meaning, unit, type, levels = '', empty_means, source } = entry;
      expect([column, meaning, type, empty_means, source].every((text) => text !== '')).toBe(true);
      if (column.endsWith('_ms')) expect([column, unit]).toEqual([column, 'ms']);
      const allowed = levels === '' ? null : levels.split('; ').map((level) => level.split(' = ')[0]);
      for (const row of readCsvRows(files[file] ?? '')) {
        const value = row[column] ?? '';
        if (empty_means === 'never empty') expect([column, value]).not.toEqual([column, '']);
        if (value === '') continue;
        if (type === 'whole number') expect(value).toMatch(/^\d+$/);
        if (type === 'number') expect(value).toMatch(/^-?\d+(\.\d+)?$/);
        if (type === 'true or false') expect(['true', 'false']).toContain(value);
        if (allowed !== null) for (const level of value.split('; ')) expect(allowed).toContain(level);
      }
    }
  });

  it('has the cautions in its dictionary', async () => {
    const files = await tables();
    expect(files['drill_dictionary.csv']).toContain('For training on manikins only.');
    expect(files['drill_dictionary.csv']).toContain('Timing only:');
    expect(files['drill_dictionary.csv']).toContain('tool default');
  });

  it('has a row for every press, with times to the microsecond and nothing where there is nothing', async () => {
    const rows = readCsvRows((await tables())['drill_presses.csv'] ?? '');
    const short = ({ press, counts, bout, cycle, place, role, person, ...rest }: Record<string, string>) =>
      [press, counts, bout, cycle, place, role, person, rest.onset_ms, rest.length_ms].join(' ');
    expect(rows.map(short)).toEqual([
      '1 outside    compressor A 100 150',
      '2 cycle 1 1 1 compressor A 1000 200',
      '3 cycle 1 1 2 compressor A 1500 200',
      '4 cycle 1 1 3 compressor A 2000 200',
      '5 cycle 1 1 1 ventilator B 2500 400',
      '6 cycle 1 2 1 compressor A 3000 200',
      '7 cycle 1 2 2 compressor A 3500 200',
      '8 cycle 1 2 3 compressor A 4000 200',
      '9 cycle 1 2 1 ventilator B 4500 400',
      '10 cycle 1 3 1 compressor A 5000 200',
      '11 cycle 1 3 2 compressor A 5500 200',
      '12 cycle 1 3 3 compressor A 6000 200',
      '13 cycle 1 3 1 ventilator B 6100 400',
      '14 bout 1   compressor A 7000.125 200',
      '15 bout 1   compressor A 7500.125 200',
      '16 bout 1   compressor A 8000.125 200',
      '17 bout 1   ventilator B 8500.125 400',
      '18 cycle 2 1 1 compressor B 10500 200',
      '19 cycle 2 1 2 compressor B 11000 200',
      '20 cycle 2 1 3 compressor B 11500 200',
      '21 cycle 2 1 1 ventilator A 12000 400',
      '22 cycle 2 2 1 compressor B 12500 200',
      '23 cycle 2 2 2 compressor B 13000 200',
      '24 cycle 2 2 3 compressor B 13500 200',
      '25 cycle 2 2 1 ventilator A 14000 400',
      '26 cycle 2 3 1 compressor B 14500 200',
      '27 cycle 2 3 2 compressor B 15000 200',
      '28 cycle 2 3 3 compressor B 15500 200',
      '29 cycle 2 3 1 ventilator A 16000 400',
      '30 bout 2   compressor B 16500 ',
    ]);
    expect(rows.map(({ beat_asynchrony_ms }) => beat_asynchrony_ms).slice(0, 5)).toEqual([
      '',
      '20',
      '20',
      '20',
      '20',
    ]);
    expect([rows[29]?.measured, rows[29]?.release_ms]).toEqual(['false', '16700']);
    expect(new Set(rows.map(({ name }) => name))).toEqual(new Set(['Zelda, the "first"', "'=Zeno"]));
  });

  it('has a row for every complete cycle, and they add up to the report’s figures', async () => {
    const rows = readCsvRows((await tables())['drill_cycles.csv'] ?? '');
    const { report } = scoreJournal(journalOf(richDrill()));
    const yes = (column: string) => rows.filter((row) => row[column] === 'true').length;
    expect({ total: rows.length, exact: yes('exact'), coordinated: yes('coordinated') }).toEqual(
      report.drill.cycles,
    );
    expect(report.drill.cycles).toEqual({ total: 6, exact: 6, coordinated: 5 });
    const { drill_id: _id, ...third } = rows[2] ?? {};
    expect(third).toEqual({
      bout: '1',
      cycle: '3',
      compressor: 'A',
      ventilator: 'B',
      technique: 'two-thumb',
      stance: 'foot-end',
      rig: 'manikin',
      start_ms: '5000',
      length_ms: '2000.125',
      ideal_cycle_ms: '2000',
      guidance: 'led',
      guidance_changed: 'false',
      left_out: 'false',
      compressions: '3',
      breaths: '1',
      exact: 'true',
      coordinated: 'false',
      faults: 'breath too soon; breath early',
      interval_1_ms: '500',
      interval_2_ms: '500',
      breath_lag_ms: '100',
      breath_lag_ratio: '0.2',
      breath_phase: '0.5499656271483032',
      restart_lag_ms: '900.125',
      clashes: '1',
      clashes_by_breath: '1',
      clashes_by_compression: '0',
      let_go_late: '0',
      overlap_ms: '100',
      pauses: '0',
      longest_pause_ms: '',
    });
  });

  it('is headers alone where nothing was begun', async () => {
    const { status, files } = await exported(new JournalBuilder(), '--to', 'csv');
    expect(status).toBe(0);
    expect(readCsv(files['drill_cycles.csv'] ?? '').length).toBe(1);
    expect(readCsv(files['drill_presses.csv'] ?? '').length).toBe(1);
  });
});
