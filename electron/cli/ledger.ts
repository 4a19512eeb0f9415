import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { RIGS, TECHNIQUES } from '../../machines/journal.ts';
import { filterEntries, type LedgerFilter, NO_FILTER } from '../../machines/ledger/filter.ts';
import { entryLine, LEDGER_WORDS, personPageText } from '../../machines/words/ledger-words.ts';
import { parseArgument } from '../arguments.ts';
import type { Failure, Result } from '../contract.ts';
import { codeOf } from '../disk-failure.ts';
import { type KeptInFolder, openKept, stationFolder } from '../station.ts';
import { BAD_CALL, BAD_INPUT, DONE, type Io } from './io.ts';

const OPTIONS = {
  folder: { type: 'string' },
  format: { type: 'string' },
  from: { type: 'string' },
  before: { type: 'string' },
  person: { type: 'string' },
  plan: { type: 'string' },
  rig: { type: 'string' },
  technique: { type: 'string' },
  archived: { type: 'boolean' },
  drill: { type: 'string' },
} as const;
type Options = {
  [N in keyof typeof OPTIONS]?: (typeof OPTIONS)[N]['type'] extends 'string' ? string : boolean;
};
type Work = (station: KeptInFolder, words: string[], options: Options, io: Io) => Promise<Failure | null>;

const FILTERS = ['format', 'before', 'person', 'plan', 'rig', 'technique', 'archived', 'from'] as const;
const WORK: Record<
  string,
  { words: [least: number, most: number]; options: readonly (keyof Options)[]; run: Work }
> = {
  list: { words: [0, 0], options: FILTERS, run: list },
  find: { words: [1, 20], options: FILTERS, run: list },
  show: { words: [1, 1], options: ['format'], run: show },
  search: { words: [1, 1], options: [], run: search },
  rename: { words: [2, 2], options: ['drill'], run: rename },
  remove: { words: [0, 1], options: ['drill'], run: remove },
};

/** `ledger list|find|show|search|rename|remove`: what the station's folder keeps. Refused while a station has it open. */
export async function ledgerCommand(args: string[], io: Io): Promise<number> {
  const asked = parseLedgerArgs(args);
  if (typeof asked === 'string') {
    io.err(`antiphon ledger: ${asked}\n`);
    return BAD_CALL;
  }
  const { run, words, options } = asked;
  const folder = options.folder === undefined ? stationFolder() : resolve(options.folder);
  const isThere = await stat(folder).then(
    (facts) => facts.isDirectory(),
    () => false,
  );
  if (!isThere) return refuse(io, folder, 'there is no such folder');
  let station: KeptInFolder | null;
  try {
    station = await openKept(folder);
  } catch (error) {
    return refuse(io, folder, `it cannot be opened (${codeOf(error)})`);
  }
  if (station === null) return refuse(io, folder, 'a station has it open: close that first');
  try {
    const failure = await run(station, words, options, io);
    if (failure === null) return DONE;
    io.err(`antiphon ledger: ${failure.message}\n`);
    return failure.code === 'bad-argument' ? BAD_CALL : BAD_INPUT;
  } finally {
    await station.leave();
  }
}

async function list(
  station: KeptInFolder,
  words: string[],
  options: Options,
  io: Io,
): Promise<Failure | null> {
  const filter = filterOf(words, options);
  const checked = parseArgument['ledger:list']({ filter, from: 0, count: 1 });
  if (!checked.ok) return checked;
  const listed = await station.host.ledger('all');
  if (!listed.ok) return listed;
  const entries = filterEntries(listed.value.entries, filter);
  if (options.format === 'json') io.out(`${JSON.stringify(entries, null, 2)}\n`);
  else io.out(`${entries.length === 0 ? LEDGER_WORDS.none : entries.map(entryLine).join('\n')}\n`);
  for (const { fileName, why } of listed.value.leftAlone) io.err(`${fileName} ${LEDGER_WORDS[why]}\n`);
  return null;
}

async function show(
  station: KeptInFolder,
  [name = '']: string[],
  options: Options,
  io: Io,
): Promise<Failure | null> {
  const listed = await station.host.ledger('all');
  if (!listed.ok) return listed;
  const settings = await station.settings.load();
  const page = await station.ledger.person(name, settings?.dueAfterDays ?? null);
  if (!page.ok) return page;
  if (options.format === 'json') io.out(`${JSON.stringify(page.value, null, 2)}\n`);
  else io.out(page.value === null ? `${LEDGER_WORDS.nobody}\n` : personPageText(page.value));
  return null;
}

async function search(
  station: KeptInFolder,
  [name = '']: string[],
  _options: Options,
  io: Io,
): Promise<Failure | null> {
  return await whenDone(station.ledger.search(name), ({ files }) =>
    io.out(files.length === 0 ? 'The name stands in no file of the folder.\n' : `${files.join('\n')}\n`),
  );
}

async function rename(
  station: KeptInFolder,
  [from = '', to = '']: string[],
  options: Options,
  io: Io,
): Promise<Failure | null> {
  const checked = parseArgument['ledger:rename-person']({ from, to, drillId: options.drill ?? null });
  if (!checked.ok) return checked;
  return await whenDone(station.ledger.renamePerson(checked.value), ({ drills }) =>
    io.out(`The name is put right in ${drills} ${drills === 1 ? 'drill' : 'drills'}.\n`),
  );
}

async function remove(
  station: KeptInFolder,
  [name]: string[],
  options: Options,
  io: Io,
): Promise<Failure | null> {
  if (options.drill !== undefined) {
    const checked = parseArgument['ledger:remove-drill']({ drillId: options.drill });
    if (!checked.ok) return checked;
    return await whenDone(station.ledger.removeDrill(options.drill), () => io.out('The drill is gone.\n'));
  }
  const checked = parseArgument['ledger:remove-person']({ name });
  if (!checked.ok) return checked;
  return await whenDone(
    station.ledger.removePerson(checked.value.name),
    ({ drills, removedDrills, leftIn }) => {
      io.out(
        `The name is gone from ${drills} drills, and ${removedDrills} drills with nobody left in them are gone.\n`,
      );
      for (const file of leftIn) io.err(`${file}: the name still stands here\n`);
      io.out(`${LEDGER_WORDS.asked}\n`);
    },
  );
}

async function whenDone<T>(work: Promise<Result<T>>, say: (value: T) => void): Promise<Failure | null> {
  const result = await work;
  if (!result.ok) return result;
  say(result.value);
  return null;
}

function filterOf(words: readonly string[], options: Options): LedgerFilter {
  const oneOf = <T extends string>(choices: readonly T[], wanted: string | undefined) =>
    wanted === undefined ? null : (choices.find((choice) => choice === wanted) ?? null);
  return {
    ...NO_FILTER,
    from: dayStart(options.from),
    before: dayStart(options.before),
    person: options.person ?? null,
    plan: options.plan ?? null,
    rig: oneOf(RIGS, options.rig),
    technique: oneOf(TECHNIQUES, options.technique),
    text: words.length === 0 ? null : words.join(' '),
    archived: options.archived === true ? 'with' : 'without',
  };
}

function dayStart(day: string | undefined): string | null {
  return day === undefined ? null : `${day}T00:00:00.000Z`;
}

function parseLedgerArgs(args: string[]): { run: Work; words: string[]; options: Options } | string {
  let options: Options;
  let positionals: string[];
  try {
    ({ values: options, positionals } = parseArgs({ args, options: OPTIONS, allowPositionals: true }));
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const [name = '', ...words] = positionals;
  const work = Object.hasOwn(WORK, name) ? WORK[name] : undefined;
  if (work === undefined) return `say one of ${Object.keys(WORK).join(', ')}`;
  const [least, most] = work.words;
  if (words.length < least || words.length > most)
    return `${name} takes ${least} to ${most} words, not ${words.length}`;
  const strange = Object.keys(options).find(
    (one) => one !== 'folder' && !work.options.includes(one as keyof Options),
  );
  if (strange !== undefined) return `${name} takes no --${strange}`;
  if (options.format !== undefined && !['text', 'json'].includes(options.format))
    return `--format is one of text, json, not ${options.format}`;
  if (options.rig !== undefined && !RIGS.some((rig) => rig === options.rig))
    return `--rig is one of ${RIGS.join(', ')}`;
  if (options.technique !== undefined && !TECHNIQUES.some((one) => one === options.technique))
    return `--technique is one of ${TECHNIQUES.join(', ')}`;
  if (name === 'remove' && (words.length === 1) === (options.drill !== undefined))
    return 'remove takes a name, or --drill ID';
  return { run: work.run, words, options };
}

function refuse(io: Io, folder: string, why: string): number {
  io.err(`${folder}: ${why}\n`);
  return BAD_INPUT;
}
