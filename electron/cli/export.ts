import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Journal } from '../../machines/journal-reader.ts';
import { withoutNames } from '../../machines/names-left-out.ts';
import { bidsFiles } from '../exports/bids-dataset.ts';
import type { ExportFile } from '../exports/export-file.ts';
import { tidyCsvFiles } from '../exports/tidy-csv.ts';
import { xapiStatements } from '../exports/xapi-statements.ts';
import { readJournalFile } from '../journal-text.ts';
import { BAD_CALL, BAD_INPUT, DONE, type Io } from './io.ts';
import { nameOf, stemOf } from './journal-stem.ts';
import { writeAllWhole } from './write-whole.ts';

const FORMATS = ['csv', 'bids', 'xapi'] as const;
type Format = (typeof FORMATS)[number];
type ExportArgs = { file: string; to: Format; out: string | null; areNamesLeftOut: boolean };

/** `export FILE --to csv|bids|xapi [--out DIR] [--without-names]`: all its files are written, or none. */
export async function exportCommand(args: string[], io: Io): Promise<number> {
  const asked = parseExportArgs(args);
  if (typeof asked === 'string') {
    io.err(`antiphon export: ${asked}\n`);
    return BAD_CALL;
  }
  const read = await readJournalFile(asked.file);
  if (!read.ok) {
    io.err(`${read.message}\n`);
    return BAD_INPUT;
  }
  const journal = asked.areNamesLeftOut ? withoutNames(read.journal) : read.journal;
  const stem = stemOf(nameOf(asked.file, journal.open, asked.areNamesLeftOut));
  const files = filesOf(asked, stem, journal);
  const [only] = files;
  if (asked.to === 'xapi' && asked.out === null && only !== undefined) {
    io.out(only.text);
    return DONE;
  }
  const folder = asked.out ?? (asked.to === 'bids' ? `${stem}_bids` : '.');
  const problem = await writeAllWhole(files.map(({ path, text }) => ({ path: join(folder, ...path), text })));
  if (problem === null) return DONE;
  io.err(`${problem}\n`);
  return BAD_INPUT;
}

function filesOf({ to, areNamesLeftOut }: ExportArgs, stem: string, journal: Journal): ExportFile[] {
  switch (to) {
    case 'csv':
      return tidyCsvFiles(stem, journal);
    case 'bids':
      return bidsFiles(journal);
    case 'xapi': {
      const text = `${JSON.stringify(xapiStatements(journal, areNamesLeftOut), null, 2)}\n`;
      return [{ path: [`${stem}_xapi.json`], text }];
    }
  }
}

function parseExportArgs(args: string[]): ExportArgs | string {
  let parsed: {
    values: { to?: string; out?: string; 'without-names'?: boolean };
    positionals: string[];
  };
  try {
    parsed = parseArgs({
      args,
      options: { to: { type: 'string' }, out: { type: 'string' }, 'without-names': { type: 'boolean' } },
      allowPositionals: true,
    });
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const { values, positionals } = parsed;
  const to = FORMATS.find((name) => name === values.to);
  if (to === undefined) return `--to is one of ${FORMATS.join(', ')}, not ${values.to ?? 'left out'}`;
  const [file, ...others] = positionals;
  if (file === undefined) return 'name a journal';
  if (others.length > 0) return 'name one journal: each is exported with a call of its own';
  return { file, to, out: values.out ?? null, areNamesLeftOut: values['without-names'] === true };
}
