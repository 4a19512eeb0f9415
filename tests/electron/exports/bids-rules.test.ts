import { describe, expect, it } from 'vitest';
import { exported, richDrill } from '../../support/exported.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/**
 * The rules that an events file must keep, each with the public text it was read in; the public validator itself was not
 * run. "Specification" is github.com/bids-standard/bids-specification, "validator" github.com/bids-standard/bids-validator.
 */

const ID = '7b1f7c1e6d5a4d0e9a440c5b7c1d2e3f';
const STEM = `sub-${ID}_ses-20260302T093000000Z_task-newborn31_events`;
const FOLDER = `sub-${ID}/ses-20260302T093000000Z/beh`;

async function dataset(builder = richDrill()) {
  const { status, err, files } = await exported(builder, '--to', 'bids');
  expect([status, err]).toEqual([0, '']);
  const tsv = files[`${FOLDER}/${STEM}.tsv`] ?? '';
  const [header = [], ...rows] = tsv
    .replace(/\n$/, '')
    .split('\n')
    .map((line) => line.split('\t'));
  const sidecar: Record<string, { [field: string]: unknown }> = JSON.parse(
    files[`${FOLDER}/${STEM}.json`] ?? '{}',
  );
  return { files, tsv, header, rows, sidecar };
}

describe('a drill as a BIDS dataset', () => {
  // Specification, schema/rules/files/raw/events.yaml: datatype beh, entities sub, ses, task, endings .tsv and .json.
  // Entity labels: ^sub-[0-9a-zA-Z]+$ in schema/objects/columns.yaml; task labels: 07-behavioral-experiments.md.
  it('names its files by subject, session and task, with letters and digits alone in their labels', async () => {
    const { files } = await dataset();
    expect(Object.keys(files).sort()).toEqual([
      'README',
      'dataset_description.json',
      `${FOLDER}/${STEM}.json`,
      `${FOLDER}/${STEM}.tsv`,
    ]);
    expect(STEM).toMatch(/^sub-[0-9a-zA-Z]+_ses-[0-9a-zA-Z]+_task-[0-9a-zA-Z]+_events$/);
  });

  // Specification, schema/rules/dataset_metadata.yaml: Name and BIDSVersion required, DatasetType and GeneratedBy recommended.
  it('describes the dataset, in the same words for every drill', async () => {
    const { files } = await dataset();
    expect(JSON.parse(files['dataset_description.json'] ?? '')).toEqual({
      Name: 'Antiphon drills',
      BIDSVersion: '1.10.0',
      DatasetType: 'raw',
      GeneratedBy: [{ Name: 'Antiphon' }],
    });
    const other = await exported(new JournalBuilder(), '--to', 'bids');
    expect(other.files['dataset_description.json']).toBe(files['dataset_description.json']);
    expect(other.files.README).toBe(files.README);
    expect(files.README).toContain('For training on manikins only.');
  });

  // Specification, schema/rules/tabular_data/events.yaml: initial_columns. Validator, tsv.js: codes 20 and 21.
  it('begins its columns with onset and duration', async () => {
    const { header } = await dataset();
    expect(header.slice(0, 3)).toEqual(['onset', 'duration', 'trial_type']);
  });

  // Specification, common-principles.md, "Tabular files": tabs, a header, no name blank or twice, snake_case, UTF-8;
  // 'n/a' for what is missing. Validator, tsv.js: as many cells in each row (22), no empty cell (23), no other word for n/a (24).
  it('is a table with a name for every column and something in every cell', async () => {
    const { tsv, header, rows } = await dataset();
    expect(tsv).not.toMatch(/[\r"]/);
    expect(new Set(header).size).toBe(header.length);
    for (const name of header) expect(name).toMatch(/^[a-z][a-z_]*$/);
    expect(rows.length).toBe(30 + 5);
    for (const row of rows) {
      expect(row.length).toBe(header.length);
      for (const cell of row) expect(cell).not.toMatch(/^(\s*|NA|na|nan|NaN|null|undefined)$/);
    }
  });

  // Specification, schema/objects/columns.yaml: onset a number of seconds, duration one from 0 on, or n/a; the rows
  // "SHOULD be sorted by values in the onset column" (modality-specific-files/task-events.md).
  it('has onsets and durations in seconds, in order of onset', async () => {
    const { rows } = await dataset();
    const onsets = rows.map(([onset]) => Number(onset));
    expect(onsets.every(Number.isFinite)).toBe(true);
    expect(onsets).toEqual(onsets.toSorted((one, other) => one - other));
    for (const [, duration] of rows)
      if (duration !== 'n/a') expect(Number(duration)).toBeGreaterThanOrEqual(0);
    expect(rows.filter(([, , type]) => type === 'call').map(([onset, , , call]) => [onset, call])).toEqual([
      ['0.4', 'begin'],
      ['8', 'guidance'],
      ['8.9', 'swap'],
      ['17', 'rest'],
      ['18', 'finish'],
    ]);
    expect(rows.find(([onset]) => onset === '7.000125')?.slice(0, 3)).toEqual([
      '7.000125',
      '0.2',
      'compression',
    ]);
    expect(rows.find(([onset]) => onset === '16.5')?.slice(0, 3)).toEqual(['16.5', 'n/a', 'compression']);
  });

  // Specification, common-principles.md: the sidecar has the table's name, and every field named like a column describes it with
  // LongName, Description, Levels, Units. Validator, json/schemas/events.json: every field an object, those fields text.
  it('describes every column in its sidecar, and every level that occurs', async () => {
    const { header, rows, sidecar } = await dataset();
    expect(Object.keys(sidecar)).toEqual(header);
    for (const [index, name] of header.entries()) {
      const column = sidecar[name] ?? {};
      expect(Object.keys(column).every((field) => FIELDS.includes(field))).toBe(true);
      expect([typeof column.LongName, typeof column.Description]).toEqual(['string', 'string']);
      if (column.Units !== undefined) expect([name, column.Units]).toEqual([name, 's']);
      if (column.Levels === undefined) continue;
      const levels = Object.keys(column.Levels as object);
      for (const row of rows) if (row[index] !== 'n/a') expect(levels).toContain(row[index]);
    }
    expect(sidecar.onset?.Description).toContain('For training on manikins only.');
    expect(sidecar.trial_type?.Description).toContain('Timing only:');
  });

  it('has nobody’s name in it, asked or not', async () => {
    const { files } = await dataset();
    for (const text of Object.values(files)) expect(text).not.toMatch(/Zel|Zen/);
  });
});

const FIELDS = ['LongName', 'Description', 'Levels', 'Units'];
