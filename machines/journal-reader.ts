import {
  type BodyLine,
  type Line,
  type LineProblem,
  type OpenLine,
  type ParsedLine,
  parseLine,
  switchesOf,
} from './journal.ts';
import { isRemark } from './remarks.ts';
import { isCheckedFor } from './rig-check/rig-check.ts';
import type { Ms } from './units.ts';
import { secondsBetween } from './wall-clock.ts';

/** A whole journal, read. `lines` are every line but the first, with their numbers in the file (the open line is 1). */
export type Journal = {
  open: OpenLine;
  lines: readonly NumberedLine[];
  isClosed: boolean;
  /** What this version did not know, and a torn last line that was passed over. */
  skipped: { lines: number; fields: number; tornBytes: number };
};
export type NumberedLine = { number: number; line: BodyLine };
export type JournalError = LineProblem & { line: number; newerVersion?: true };
export type ReadJournal = { ok: true; journal: Journal } | { ok: false; error: JournalError };

/**
 * Takes a journal's lines one by one and holds the rules that need the lines before:
 * open first and once, time never back, only the binding's switches, after close nothing but what may follow it.
 */
export class JournalOrder {
  private open: OpenLine | null = null;
  private lastMs: Ms = 0;
  private closed = false;

  /** Null when the line may follow, else what is wrong with it. */
  problemOf(line: Line): LineProblem | null {
    if (this.open === null) {
      return line.kind === 'open'
        ? null
        : { field: 'kind', problem: 'is not open: a journal begins with its open line' };
    }
    if (line.kind === 'open') return { field: 'kind', problem: 'is open a second time' };
    if (this.closed && !mayFollowClose(line)) return { field: 'kind', problem: 'comes after the close line' };
    if (line.at !== undefined && line.at < this.lastMs) {
      return { field: 'at', problem: `goes back from ${this.lastMs} to ${line.at}` };
    }
    if (line.kind === 'edge' && !switchesOf(this.open.binding).includes(line.switch)) {
      return {
        field: 'switch',
        problem: `is ${line.switch}, which a ${this.open.binding} binding does not have`,
      };
    }
    return null;
  }

  /** Takes the line; call only when `problemOf` was null. */
  take(line: Line): void {
    if (line.kind === 'open') this.open = line;
    else {
      if (line.at !== undefined) this.lastMs = line.at;
      if (line.kind === 'close') this.closed = true;
    }
  }

  get openLine(): OpenLine | null {
    return this.open;
  }
  get isClosed(): boolean {
    return this.closed;
  }
  /** The time of the last line that has one, in ms. */
  get lastAtMs(): Ms {
    return this.lastMs;
  }
}

/** What is said of a drill when it is over, or done to its file; a kind of a later release too. */
function mayFollowClose(line: BodyLine): boolean {
  return isRemark(line) || line.kind === 'recovered' || line.kind === 'unknown';
}

const A_DAY_S = 86_400;

/** What is wrong with an open line that its schema cannot say, or null. */
export function openProblem(open: OpenLine): LineProblem | null {
  if (open.binding === 'person' && open.rig === 'manikin') {
    return { field: 'binding', problem: 'is person, which only a rhythm rig may have' };
  }
  if (open.rig === 'manikin' && open.rigCheck !== undefined) {
    if (open.rigCheck.outcome !== 'passed')
      return { field: 'rigCheck', problem: `is ${open.rigCheck.outcome}, which only a rhythm rig may have` };
    if (Math.abs(secondsBetween(open.rigCheck.at, open.openedAt)) > A_DAY_S) {
      return { field: 'rigCheck.at', problem: 'is over a day from openedAt: the check is of the day' };
    }
    if (!isCheckedFor(open.rigCheck, open)) {
      return { field: 'rigCheck', problem: `was made without ${open.technique}, ${open.stance}` };
    }
  }
  for (const name of switchesOf(open.binding)) {
    if (!Object.hasOwn(open.sources, name)) return { field: `sources.${name}`, problem: 'is missing' };
  }
  return null;
}

/**
 * Reads a journal from the texts of its lines, in order, without their newlines.
 * A last line that is not JSON is a torn tail: passed over and counted. Any other bad line is the error.
 */
export class JournalReader {
  private readonly order = new JournalOrder();
  private readonly lines: NumberedLine[] = [];
  private readonly skipped = { lines: 0, fields: 0, tornBytes: 0 };
  private number = 0;
  private torn: { bytes: number; error: JournalError } | null = null;
  private error: JournalError | null = null;

  /** Takes the next line's text; false once an error is known and reading may stop. */
  push(text: string): boolean {
    if (this.error !== null) return false;
    if (this.torn !== null) return this.fail(this.torn.error);
    this.number += 1;
    const parsed = parseLine(text);
    if (parsed.ok) return this.take(parsed);
    const error: JournalError = { line: this.number, field: parsed.field, problem: parsed.problem };
    if (parsed.newerVersion) error.newerVersion = true;
    if (!parsed.unparsable) return this.fail(error);
    this.torn = { bytes: text.length, error };
    return true;
  }

  /** A line that could not be read as text at all: too long, or not UTF-8. */
  fail(error: JournalError): false {
    this.error ??= error;
    return false;
  }

  get nextLine(): number {
    return this.number + 1;
  }

  /** True when the line just pushed is not JSON: a torn tail, if it stays the last. */
  get isTorn(): boolean {
    return this.torn !== null;
  }

  finish(): ReadJournal {
    if (this.error !== null) return { ok: false, error: this.error };
    const open = this.order.openLine;
    if (open === null) {
      if (this.torn !== null) return { ok: false, error: this.torn.error };
      return {
        ok: false,
        error: { line: 1, field: null, problem: 'the file is empty: there is no open line' },
      };
    }
    if (this.torn !== null) this.skipped.tornBytes = this.torn.bytes;
    return {
      ok: true,
      journal: { open, lines: this.lines, isClosed: this.order.isClosed, skipped: this.skipped },
    };
  }

  private take(parsed: Extract<ParsedLine, { ok: true }>): boolean {
    const { line, unknownFields } = parsed;
    const problem = this.order.problemOf(line) ?? (line.kind === 'open' ? openProblem(line) : null);
    if (problem !== null) return this.fail({ line: this.number, ...problem });
    this.order.take(line);
    this.skipped.fields += unknownFields;
    if (line.kind === 'unknown') this.skipped.lines += 1;
    if (line.kind !== 'open') this.lines.push({ number: this.number, line });
    return true;
  }
}

/** Reads a journal from its whole text. */
export function readJournal(text: string): ReadJournal {
  const reader = new JournalReader();
  const body = text.replace(/[\0]+$/, '');
  const texts = body.split('\n');
  if (texts.at(-1) === '') texts.pop();
  for (const line of texts) if (!reader.push(line)) break;
  return reader.finish();
}
