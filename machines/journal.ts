import * as v from 'valibot';
import { callSchemas, countSchemas } from './journal-calls.ts';
import {
  atMs,
  between,
  cycleMs,
  isoTime,
  LONGEST_TITLE,
  MAX_AT_MS,
  MOST_OFFSET_MS,
  oneOf,
  rigCheckSchema,
  rolesSchema,
  slug,
  someWords,
  sourceSchema,
  switchOffsetSchema,
  weaningSchema,
  words,
} from './journal-fields.ts';
import { MOST_LEGS, planSchema } from './plans/plan.ts';
import type { Ms } from './units.ts';
import {
  AIRWAYS,
  BINDINGS,
  type Binding,
  DECISIONS,
  GUIDANCES,
  PERSONS,
  type Person,
  RIGS,
  STANCES,
  TECHNIQUES,
  TOLERANCES,
} from './vocabulary.ts';

/**
 * The journal: a JSON Lines file, one object a line, only ever appended to. This file is its schema, of the fields in journal-fields.ts; calls and the count are in journal-calls.ts.
 * Times (`at`) are milliseconds on the drill's clock, 0 to 86 400 000, at most three decimals,
 * never decreasing from line to line. A reader keeps, counts and skips kinds and fields it does not know. After the close
 * line come only remarks (`mark`, `signature`), `recovered` lines, and kinds it does not know.
 */

export const JOURNAL_VERSION = 1;
export const JOURNAL_SUFFIX = '.antiphon.jsonl';
/** The longest line a reader takes, in bytes (tool default: the longest note is a twentieth of it). */
export const MAX_LINE_BYTES = 65_536;

export {
  isoTime,
  LONGEST_TITLE,
  MAX_AT_MS,
  rigCheckSchema,
  switchOffsetSchema,
  weaningSchema,
} from './journal-fields.ts';
export {
  AIRWAYS,
  type Airway,
  BINDINGS,
  type Binding,
  type CountSense,
  type Decision,
  GUIDANCES,
  type Guidance,
  HEART_RATE_WAYS,
  type HeartRateWay,
  PERSONS,
  type Person,
  RIGS,
  type Rig,
  STANCES,
  type Stance,
  TECHNIQUES,
  type Technique,
  TOLERANCES,
  type Tolerance,
} from './vocabulary.ts';

export const SWITCH_NAMES = ['chest', 'airway', ...PERSONS] as const;
export type Switch = (typeof SWITCH_NAMES)[number];
export type Roles = { compressor: Person; ventilator: Person };

/** One entry a line kind; each field documented where its meaning is not its name. */
const schemas = {
  open: v.object({
    kind: v.literal('open'),
    version: v.literal(JOURNAL_VERSION, `is not ${JOURNAL_VERSION}`),
    id: v.pipe(v.string('is not text'), v.uuid('is not a UUID')),
    /** Wall clock at the drill's 0, ISO 8601 in UTC; read once and used in no figure. */
    openedAt: isoTime,
    pattern: v.literal('newborn-3-1', 'is not newborn-3-1'),
    /** Which preset's words the screens use; no figure depends on it. */
    guideline: slug,
    rig: oneOf(RIGS),
    /** The day's rig check; absent when a rhythm rig was wanted, and in journals from before there was a check. */
    rigCheck: v.optional(rigCheckSchema),
    airway: oneOf(AIRWAYS),
    /** What a switch belongs to: its place (chest, airway) or its person (A, B). */
    binding: oneOf(BINDINGS),
    tolerance: v.optional(oneOf(TOLERANCES), 'standard'),
    cycleMs: v.optional(cycleMs, 2000),
    /** A down sooner than this after the same switch's up is bounce. */
    bounceMs: v.optional(between(0, 200, 'ms'), 25),
    /** How each switch's times are made, and the step they come in. */
    sources: v.record(v.string(), sourceSchema, 'is not a table of time sources'),
    switchOffset: v.optional(switchOffsetSchema),
    people: v.object({ A: words(80), B: words(80) }, 'does not name A and B'),
    roles: rolesSchema,
    technique: oneOf(TECHNIQUES),
    stance: oneOf(STANCES),
    guidance: oneOf(GUIDANCES),
    /** When a weaned count falls silent and returns; without it, the tool defaults. */
    weaning: v.optional(weaningSchema),
    /** What was meant, whole, as it was chosen; absent: no plan. What happened is in the lines. */
    plan: v.optional(planSchema),
    /**
     * What the Ledger was told of the drill later, which rewrites the file whole; absent: nothing. `title` null: none.
     * `archived`: put away from the list; its figures count as ever.
     */
    filed: v.optional(
      v.object(
        { title: v.nullable(words(LONGEST_TITLE)), archived: v.boolean('is not true or false') },
        'is not what a drill is filed under',
      ),
    ),
  }),
  edge: v.object({
    kind: v.literal('edge'),
    at: atMs,
    switch: oneOf(SWITCH_NAMES),
    down: v.boolean('is not true or false'),
    /** True on an up that nobody saw: focus gone or switch unplugged. The press has no length. */
    lost: v.optional(v.boolean('is not true or false')),
  }),
  /** Something seen by a person. `met` null: looked for and not seen. */
  tick: v.object({
    kind: v.literal('tick'),
    at: atMs,
    item: slug,
    met: v.nullable(v.boolean('is not true, false or null')),
    by: oneOf(['instructor', 'observer']),
  }),
  device: v.object({
    kind: v.literal('device'),
    at: atMs,
    /**
     * What a switch, the keyboard or the station did. Of a plan: `plan-next`, the instructor asks for leg `leg` now;
     * `plan-leg`, leg `leg` has begun by itself at this time.
     */
    what: slug,
    switch: v.optional(words(64)),
    /** With `plan-next` and `plan-leg`: which leg, from 0; the number of legs stands for the finish. */
    leg: v.optional(
      v.pipe(
        between(0, MOST_LEGS, 'legs'),
        v.check((leg: number) => Number.isInteger(leg), 'is not whole'),
      ),
    ),
    /** With `late`: the line before came when later lines of another window stood already; its own time is so much earlier. */
    lateMs: v.optional(between(0, MAX_AT_MS, 'ms')),
  }),
  note: v.object({ kind: v.literal('note'), at: atMs, text: words(4000) }),
  /**
   * The instructor's word on a cycle, after close or before: `at` only gives it its place, and is the time of the line before.
   * The latest for a row counts.
   */
  mark: v.object({
    kind: v.literal('mark'),
    at: atMs,
    /**
     * Which cycle: its start in ms on the drill's clock, as the rows have it. Below 0, to -100, only where an offset between the
     * switches was taken out of it. A row that is not there is a warning.
     */
    row: between(-MOST_OFFSET_MS, MAX_AT_MS, 'ms'),
    /** True: a switch missed a press of it, so it is left out of every figure. False takes that back. */
    missed: v.boolean('is not true or false'),
  }),
  /**
   * The instructor signs for one learner against the course's own standard; the tool decides nothing. `at` as in `mark`. The
   * latest for a person counts, and one is taken back by signing `not assessed`. Of the figures as the marks before it left them.
   */
  signature: v.object({
    kind: v.literal('signature'),
    at: atMs,
    /** Wall clock of the station when it was signed, ISO 8601 in UTC. */
    signedAt: isoTime,
    /** Whose drill it is signed for. */
    person: oneOf(PERSONS),
    /** The instructor's name, as typed. */
    by: someWords(80),
    /** The name of the course's standard, as typed. */
    standard: someWords(200),
    decision: oneOf(DECISIONS),
  }),
  /** What was cut from a torn tail when the file was reopened: how many bytes, and the start of their text. */
  recovered: v.object({
    kind: v.literal('recovered'),
    at: atMs,
    bytes: between(0, 1e12, 'bytes'),
    text: words(4000),
  }),
  close: v.object({ kind: v.literal('close'), at: atMs }),
};

export type RigCheck = v.InferOutput<typeof rigCheckSchema>;
export type OpenLine = v.InferOutput<typeof schemas.open>;
export type SwitchOffsetRecord = v.InferOutput<typeof switchOffsetSchema>;
export type EdgeLine = v.InferOutput<typeof schemas.edge>;
export type TickLine = v.InferOutput<typeof schemas.tick>;
export type DeviceLine = v.InferOutput<typeof schemas.device>;
export type NoteLine = v.InferOutput<typeof schemas.note>;
export type RecoveredLine = v.InferOutput<typeof schemas.recovered>;
export type CloseLine = v.InferOutput<typeof schemas.close>;
export type MarkLine = v.InferOutput<typeof schemas.mark>;
export type SignatureLine = v.InferOutput<typeof schemas.signature>;
export type CallLine = {
  [N in keyof typeof callSchemas]: v.InferOutput<(typeof callSchemas)[N]>;
}[keyof typeof callSchemas];
export type CallName = CallLine['call'];
export type CountGivenLine = v.InferOutput<(typeof countSchemas)['given']>;
export type CountStoppedLine = v.InferOutput<(typeof countSchemas)['stopped']>;
export type CountLine = CountGivenLine | CountStoppedLine;
export type WeaningRule = v.InferOutput<typeof weaningSchema>;
/** A line of a kind this version does not know: kept in the file, counted, skipped. */
export type UnknownLine = { kind: 'unknown'; at?: Ms };
/** Every line but the first. */
export type BodyLine =
  | EdgeLine
  | CallLine
  | CountLine
  | TickLine
  | DeviceLine
  | NoteLine
  | MarkLine
  | SignatureLine
  | RecoveredLine
  | CloseLine
  | UnknownLine;
export type Line = OpenLine | BodyLine;

/** What is wrong with a line: the field, and words that follow its name ("at has more than three decimals"). */
export type LineProblem = { field: string | null; problem: string };
export type ParsedLine =
  | { ok: true; line: Line; unknownFields: number }
  | ({ ok: false; newerVersion?: true; unparsable?: true } & LineProblem);

/** The switches a binding has. */
export function switchesOf(binding: Binding): readonly [Switch, Switch] {
  return binding === 'place' ? ['chest', 'airway'] : PERSONS;
}

/** Reads one line's text; never throws. Rules that need the lines before it are the JournalReader's. */
export function parseLine(text: string): ParsedLine {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return {
      ok: false,
      unparsable: true,
      field: null,
      problem: text.trim() === '' ? 'the line is empty' : 'the line is not JSON',
    };
  }
  return checkLine(value);
}

/** Checks a line that is already a value, as a window sends it; never throws. */
export function checkLine(value: unknown): ParsedLine {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return { ok: false, field: null, problem: 'the line is not a JSON object' };
  }
  const record = value as Record<string, unknown>;
  const kind = record.kind;
  if (typeof kind !== 'string') return { ok: false, field: 'kind', problem: 'is missing' };
  if (kind === 'open' && typeof record.version === 'number' && record.version > JOURNAL_VERSION) {
    return {
      ok: false,
      newerVersion: true,
      field: 'version',
      problem: `is ${record.version}: this journal was made by a newer release and is left untouched`,
    };
  }
  if (kind === 'call') {
    const name = record.call;
    if (typeof name !== 'string' || !Object.hasOwn(callSchemas, name)) {
      return { ok: false, field: 'call', problem: `is not a call this version knows: ${shorten(name)}` };
    }
    return checkAgainst(callSchemas[name as CallName], record);
  }
  if (kind === 'count') {
    const what = record.what;
    if (typeof what === 'string' && Object.hasOwn(countSchemas, what)) {
      return checkAgainst(countSchemas[what as keyof typeof countSchemas], record);
    }
    return { ok: false, field: 'what', problem: 'is not one of given, stopped' };
  }
  if (Object.hasOwn(schemas, kind)) return checkAgainst(schemas[kind as keyof typeof schemas], record);
  if (record.at === undefined) return { ok: true, line: { kind: 'unknown' }, unknownFields: 0 };
  const at = v.safeParse(atMs, record.at);
  if (!at.success) return { ok: false, field: 'at', problem: at.issues[0].message };
  return { ok: true, line: { kind: 'unknown', at: at.output }, unknownFields: 0 };
}

/** One line's text as it stands in the file, without its newline. */
export function formatLine(line: Line): string {
  return JSON.stringify(line);
}

function checkAgainst(
  schema:
    | (typeof schemas)[keyof typeof schemas]
    | (typeof callSchemas)[CallName]
    | (typeof countSchemas)[keyof typeof countSchemas],
  record: Record<string, unknown>,
): ParsedLine {
  const result = v.safeParse(schema, record, { abortEarly: true });
  if (!result.success) {
    const issue = result.issues[0];
    const path = issue.path?.map((item) => String(item.key)).join('.') ?? null;
    const isMissing = issue.received === 'undefined';
    return {
      ok: false,
      field: path,
      problem: isMissing ? 'is missing' : plainProblem(issue.message, issue.received),
    };
  }
  const unknownFields = Object.keys(record).filter((key) => !Object.hasOwn(schema.entries, key)).length;
  return { ok: true, line: result.output as Line, unknownFields };
}

function plainProblem(message: string, received: string): string {
  return message.startsWith('Invalid') ? `is not valid: ${shorten(received)}` : message;
}

function shorten(value: unknown): string {
  const text =
    typeof value === 'object' && value !== null ? 'an object' : (JSON.stringify(value) ?? 'nothing');
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
