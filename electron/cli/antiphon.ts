#!/usr/bin/env node
import { realpathSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { exportCommand } from './export.ts';
import { BAD_CALL, DONE, type Io } from './io.ts';
import { ledgerCommand } from './ledger.ts';
import { rehearseCommand } from './rehearse.ts';
import { scoreCommand } from './score.ts';

const USAGE = `antiphon: two-person newborn compressions and breaths on a manikin, timed

  antiphon score FILE… [--format json|text|csv|html] [--out DIR] [--without-names]
      scores journals; --out writes one file a journal into DIR
  antiphon export FILE --to csv|bids|xapi [--out DIR] [--without-names]
      writes a drill's presses and cycles in an open format, into DIR or here; xapi without --out is printed
  antiphon rehearse [--seed N] [--minutes M] [--plan NAME] [--binding place|person] [--out FILE]
      writes a synthetic pair's journal, from a stated model of human timing
  antiphon ledger list|find|show|search|rename|remove … [--folder DIR]
      list and find WORDS… [--from DAY] [--before DAY] [--person NAME] [--plan NAME] [--rig R] [--technique T] [--archived]
      show NAME: a person's page; search NAME: the files in which a name stands
      rename FROM TO [--drill ID]; remove NAME: that person, from every drill; remove --drill ID: a drill

--without-names leaves out names and whatever people may have written; files are then named after the drill’s id.
For training on manikins only. Not a medical device; never for use on a patient.
`;

type Command = (args: string[], io: Io) => Promise<number>;
const COMMANDS: Record<string, Command> = {
  score: scoreCommand,
  export: exportCommand,
  rehearse: rehearseCommand,
  ledger: ledgerCommand,
};

/** Runs the command that the words name; the exit status. */
export async function runCommandLine(words: string[], io: Io): Promise<number> {
  const [name, ...args] = words;
  if (name === '--help' || name === '-h' || name === 'help') {
    io.out(USAGE);
    return DONE;
  }
  const command = name !== undefined && Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (command === undefined) {
    io.err(name === undefined ? USAGE : `antiphon: there is no command ${name}\n\n${USAGE}`);
    return BAD_CALL;
  }
  return command(args, io);
}

/** True when this file is what node was started with, by whatever link. */
function isStartedHere(): boolean {
  const started = process.argv[1];
  return started !== undefined && realpathSync(started) === realpathSync(fileURLToPath(import.meta.url));
}

if (isStartedHere()) {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
  process.exitCode = await runCommandLine(process.argv.slice(2), {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    isWatched: process.stderr.isTTY === true,
  });
}
