import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { withoutNames } from '../../machines/names-left-out.ts';
import { type ScoredJournal, scoreJournal } from '../../machines/replay.ts';
import { withCaution } from '../../machines/words/comparison-words.ts';
import { REPORT_CSV_HEADER, reportCsv } from '../exports/report-csv.ts';
import { reportHtml } from '../exports/report-html.ts';
import { reportText } from '../exports/report-text.ts';
import { readJournalFile } from '../journal-text.ts';
import { BAD_CALL, BAD_INPUT, DONE, type Io } from './io.ts';
import { nameOf, stemOf } from './journal-stem.ts';
import { writeWhole } from './write-whole.ts';

const FORMATS = ['json', 'text', 'csv', 'html'] as const;
type Format = (typeof FORMATS)[number];
const ENDING: Record<Format, string> = { json: 'json', text: 'txt', csv: 'csv', html: 'html' };

/** `score FILE… [--format …] [--out DIR] [--without-names]`: bad files are named on standard error, the others are still done. */
export async function scoreCommand(args: string[], io: Io): Promise<number> {
  const asked = parseScoreArgs(args);
  if (typeof asked === 'string') {
    io.err(`antiphon score: ${asked}\n`);
    return BAD_CALL;
  }
  const { files, format, out } = asked;
  const printed: string[] = [];
  let status = DONE;
  for (const [index, file] of files.entries()) {
    if (io.isWatched && files.length > 1) io.err(`\r${index + 1} of ${files.length} journals`);
    const problem = await scoreOne(file, asked, printed);
    if (problem === null) continue;
    io.err(`${io.isWatched && files.length > 1 ? '\n' : ''}${problem}\n`);
    status = BAD_INPUT;
  }
  if (io.isWatched && files.length > 1) io.err('\n');
  if (out === null && printed.length > 0) io.out(joinPrinted(printed, format, files.length > 1));
  return status;
}

/** Scores one file and prints or writes it; what is wrong, or null. */
async function scoreOne(
  file: string,
  { format, out, areNamesLeftOut }: ScoreArgs,
  printed: string[],
): Promise<string | null> {
  const read = await readJournalFile(file);
  if (!read.ok) return read.message;
  const journal = areNamesLeftOut ? withoutNames(read.journal) : read.journal;
  const name = nameOf(file, journal.open, areNamesLeftOut);
  const text = formatOf(format, name, scoreJournal(journal));
  if (out === null) {
    printed.push(text);
    return null;
  }
  const target = join(out, `${stemOf(name)}.${ENDING[format]}`);
  const whole = format === 'csv' ? REPORT_CSV_HEADER + text : format === 'json' ? `${text}\n` : text;
  const problem = await writeWhole(target, whole);
  return problem === null ? null : `${target}: ${problem}`;
}

function formatOf(format: Format, name: string, scored: ScoredJournal): string {
  switch (format) {
    case 'json': {
      const { drill, ...rest } = scored.report;
      const comparisons = rest.comparisons.map(withCaution);
      return JSON.stringify({ drill: { file: name, ...drill }, ...rest, comparisons }, null, 2);
    }
    case 'text':
      return reportText(name, scored);
    case 'csv':
      return reportCsv(name, scored);
    case 'html':
      return reportHtml(name, scored);
  }
}

function joinPrinted(printed: readonly string[], format: Format, isList: boolean): string {
  if (format === 'json') return isList ? `[\n${printed.join(',\n')}\n]\n` : `${printed.join('')}\n`;
  if (format === 'csv') return REPORT_CSV_HEADER + printed.join('');
  return printed.join('\n');
}

type ScoreArgs = { files: string[]; format: Format; out: string | null; areNamesLeftOut: boolean };

function parseScoreArgs(args: string[]): ScoreArgs | string {
  let parsed: { values: { format?: string; out?: string; 'without-names'?: boolean }; positionals: string[] };
  try {
    parsed = parseArgs({
      args,
      options: { format: { type: 'string' }, out: { type: 'string' }, 'without-names': { type: 'boolean' } },
      allowPositionals: true,
    });
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const { values, positionals } = parsed;
  const format = FORMATS.find((name) => name === (values.format ?? 'json'));
  if (format === undefined) return `--format is one of ${FORMATS.join(', ')}, not ${values.format}`;
  if (positionals.length === 0) return 'name at least one journal';
  const out = values.out ?? null;
  if (format === 'html' && positionals.length > 1 && out === null)
    return 'several journals in html need --out DIR';
  const stems = new Set(positionals.map((file) => basename(file)));
  if (out !== null && stems.size < positionals.length)
    return 'two journals have the same name: write them with two calls';
  return { files: positionals, format, out, areNamesLeftOut: values['without-names'] === true };
}
