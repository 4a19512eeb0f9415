import * as v from 'valibot';
import { findPlaces } from './plans/json-places.ts';

/** What the station keeps as JSON and people may write by hand: one kind of file, of one version. */
export type FileForm<T> = {
  /** What one is called in a reason: "plan", "standard". */
  noun: string;
  version: number;
  schema: v.GenericSchema<unknown, T>;
  /** Characters at the most. */
  longest: number;
};

/** Why a file is refused: the line, from 1, the field by its path (null: the whole), and words that follow its name. */
export type FileProblem = { line: number; field: string | null; problem: string };
export type ParsedFile<T> = { ok: true; value: T } | { ok: false; problem: FileProblem };
export type CheckedValue<T> = { ok: true; value: T } | { ok: false; path: Path; problem: string };
type Path = readonly (string | number)[];

/** Reads a file's text; never throws. A field that no such file has is refused too: it is a slip of the pen. */
export function parseFile<T>(text: string, form: FileForm<T>): ParsedFile<T> {
  if (text.length > form.longest) return refuse(1, [], `the file is longer than ${form.longest} characters`);
  // A byte order mark is no part of JSON, and some editors write one.
  const json = text.replace(/^\uFEFF/, '');
  if (json.trim() === '') return refuse(1, [], 'the file is empty');
  const places = findPlaces(json);
  if (!places.ok) return refuse(places.line, [], 'here the text is not JSON');
  const checked = checkValue(JSON.parse(json), form);
  return checked.ok ? checked : refuse(places.lineOf(checked.path), checked.path, checked.problem);
}

/** Checks what is already a value; never throws. The path is empty when the whole is wrong. */
export function checkValue<T>(value: unknown, { noun, version, schema }: FileForm<T>): CheckedValue<T> {
  if (!isRecord(value)) return { ok: false, path: [], problem: `this is not a ${noun}` };
  if (isNewer(value, version)) {
    const problem = `is ${String(value.version)}: this ${noun} was made by a newer release`;
    return { ok: false, path: ['version'], problem };
  }
  const result = v.safeParse(schema, value, { abortEarly: true });
  if (!result.success) {
    const issue = result.issues[0];
    const path = (issue.path ?? []).map(({ key }) => key as string | number);
    return { ok: false, path, problem: issue.received === 'undefined' ? 'is missing' : issue.message };
  }
  const stranger = strangerIn(value, result.output);
  if (stranger !== null) return { ok: false, path: stranger, problem: `is not a field of a ${noun}` };
  return { ok: true, value: result.output };
}

/** Was it made by a newer release than the one that has this version? Such a file is left as it is. */
export function isNewer(value: unknown, version: number): boolean {
  return isRecord(value) && typeof value.version === 'number' && value.version > version;
}

/** A value as its file stands: one field a line, so that a reason's line is easy to find. */
export function formatFile(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

/** "line 12: legs.3.seconds is not 5 to 3600 s, whole". */
export function fileProblemWords({ line, field, problem }: FileProblem): string {
  return `line ${line}: ${field === null ? '' : `${field} `}${problem}`;
}

function refuse(line: number, path: Path, problem: string): { ok: false; problem: FileProblem } {
  return { ok: false, problem: { line, field: path.length === 0 ? null : path.join('.'), problem } };
}

/** The first field of the file that the schema left out. */
function strangerIn(value: unknown, known: unknown, path: Path = []): Path | null {
  if (Array.isArray(value) && Array.isArray(known)) {
    for (const [index, one] of value.entries()) {
      const found = strangerIn(one, known[index], [...path, index]);
      if (found !== null) return found;
    }
    return null;
  }
  if (!isRecord(value) || !isRecord(known)) return null;
  for (const [key, one] of Object.entries(value)) {
    if (!Object.hasOwn(known, key)) return [...path, key];
    const found = strangerIn(one, known[key], [...path, key]);
    if (found !== null) return found;
  }
  return null;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
