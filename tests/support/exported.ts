import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { runCommandLine } from '../../electron/cli/antiphon.ts';
import { type BodyLine, formatLine } from '../../machines/journal.ts';
import type { Journal } from '../../machines/journal-reader.ts';
import { READY_MADE } from '../../machines/plans/ready-made.ts';
import { makeTempFolder } from './folder-for-test.ts';
import { JournalBuilder } from './journal-builder.ts';

/** A journal's text as a station writes it, closed at its last line. */
export function journalText(builder: JournalBuilder): string {
  const lines = builder.lines.map(({ line }) => line);
  const close: BodyLine = { kind: 'close', at: Math.max(0, ...lines.map((line) => line.at ?? 0)) };
  return [builder.open, ...lines, close].map((line) => `${formatLine(line)}\n`).join('');
}

/** The same as a reader gives it. */
export function journalOf({ open, lines }: JournalBuilder): Journal {
  return { open, lines, isClosed: true, skipped: { lines: 0, fields: 0, tornBytes: 0 } };
}

/**
 * A drill with a bit of everything: a press before begin, two cycles, a clash, a swap, a press whose release was lost, a
 * call that was taken back, a rest, the count for a while, and names, a note and a plan that must be kept safe.
 */
export function richDrill(): JournalBuilder {
  const journal = new JournalBuilder({
    people: { A: 'Zelda, the "first"', B: '=Zeno' },
    guidance: 'led',
    plan: {
      ...READY_MADE['cold-minute'],
      name: 'For Zelda',
      words: { learners: 'Zeno begins', instructor: 'Zelda is tired' },
    },
  });
  journal.press('chest', 100, 250).call(400, 'begin');
  journal.line({
    kind: 'count',
    at: 400,
    what: 'given',
    by: 'sound',
    fromMs: 980,
    beat: 'one',
    cycleMs: 2000,
    outputLatencyMs: 12,
    errorMs: 1,
  });
  journal.ideal(1000, 2).cycle([5000, 5500, 6000], 6100).ideal(7000.125, 1);
  journal.call(8000, { call: 'guidance', guidance: 'unled' }).call(8100, 'rest').call(8200, 'undo');
  journal.line({ kind: 'note', at: 8300, text: 'Zelda hurried Zeno' }).call(8900, 'swap');
  journal.ideal(10_500, 3).down('chest', 16_500).up('chest', 16_700, true).call(17_000, 'rest');
  return journal.call(18_000, 'finish');
}

/** Writes a journal into a folder of its own and exports it there; every file under `out`, by its path from there. */
export async function exported(
  builder: JournalBuilder,
  ...words: string[]
): Promise<{ status: number; out: string; err: string; files: Record<string, string> }> {
  const folder = await makeTempFolder();
  const file = join(folder, 'drill.antiphon.jsonl');
  await writeFile(file, journalText(builder));
  const out = join(folder, 'out');
  const said = await run('export', file, '--out', out, ...words);
  return { ...said, files: await filesUnder(out) };
}

/** Runs the command line and keeps what it says. */
export async function run(...words: string[]): Promise<{ status: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const status = await runCommandLine(words, {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    isWatched: false,
  });
  return { status, ...said };
}

/** Every file under a folder with its text; none where the folder is not there. */
export async function filesUnder(folder: string): Promise<Record<string, string>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  const files: Record<string, string> = {};
  for (const entry of entries) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    files[path.slice(folder.length + 1)] = await readFile(path, 'utf8');
  }
  return files;
}

/** Puts a folder where an export wants to write a file. */
export async function folderInTheWay(path: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  await mkdir(path);
}
