import * as v from 'valibot';
import { BEAT_KINDS } from './count/beats.ts';
import { MOST_LEGS, planSchema } from './plans/plan.ts';
import { isWholeUs, type Ms } from './units.ts';
import {
  AIRWAYS,
  BINDINGS,
  type Binding,
  COUNT_SENSES,
  DECISIONS,
  GUIDANCES,
  HEART_RATE_WAYS,
  PERSONS,
  type Person,
  RIGS,
  STANCES,
  TECHNIQUES,
  TOLERANCES,
} from './vocabulary.ts';
import { isDate } from './wall-clock.ts';

/**
 * The journal: a JSON Lines file, one object a line, only ever appended to. This file is its schema.
 * Times (`at`) are milliseconds on the drill's clock, 0 to 86 400 000, at most three decimals,
 * never decreasing from line to line. A reader keeps, counts and skips kinds and fields it does not know. After the close
 * line come only remarks (`mark`, `signature`), `recovered` lines, and kinds it does not know.
 */

export const JOURNAL_VERSION = 1;
export const JOURNAL_SUFFIX = '.antiphon.jsonl';
/** The longest line a reader takes, in bytes (tool default: the longest note is a twentieth of it). */
export const MAX_LINE_BYTES = 65_536;
export const MAX_AT_MS = 86_400_000;

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

const atMs = v.pipe(
  v.number('is not a number of milliseconds'),
  v.check((at: Ms) => at >= 0 && at <= MAX_AT_MS, 'is not between 0 and 86400000 ms'),
  v.check((at: Ms) => isWholeUs(at), 'has more than three decimals'),
);
const words = (longest: number) =>
  v.pipe(v.string('is not text'), v.maxLength(longest, `is longer than ${longest} characters`));
const someWords = (longest: number) =>
  v.pipe(
    words(longest),
    v.check((text) => text.trim() !== '', 'is empty'),
  );
/** A short name made for machines: a tick's item, what a device did, a guideline. */
const slug = v.pipe(
  v.string('is not text'),
  v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'is not a short name of a-z, 0-9 and -'),
);
const oneOf = <const T extends readonly string[]>(choices: T) =>
  v.picklist(choices, `is not one of ${choices.join(', ')}`);
const between = (low: number, high: number, unit: string) =>
  v.pipe(
    v.number('is not a number'),
    v.check((n: number) => n >= low && n <= high && isWholeUs(n), `is not ${low} to ${high} ${unit}`),
  );
/** A cycle's length in ms; the limits are tool defaults, wide enough for any teaching tempo. */
const cycleMs = between(500, 20_000, 'ms');

/** Wall-clock time, ISO 8601 in UTC. */
export const isoTime = v.pipe(
  v.string('is not text'),
  v.regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,6})?Z$/, 'is not an ISO 8601 time in UTC'),
  v.check(isDate, 'is no date of the calendar'),
);
const someOf = <const T extends readonly string[]>(choices: T) =>
  v.pipe(
    v.array(oneOf(choices), 'is not a list'),
    v.minLength(1, 'is empty'),
    v.check((list) => new Set(list).size === list.length, 'names one twice'),
  );
/**
 * What came of the day's rig check: when it ended, and with which techniques and stances it was made. `not-done`: a manikin
 * rig was wanted and not checked that day, so there is no time. Only `passed` goes with a manikin rig.
 */
export const rigCheckSchema = v.variant(
  'outcome',
  [
    v.object({
      outcome: oneOf(['passed', 'failed', 'skipped']),
      at: isoTime,
      techniques: someOf(TECHNIQUES),
      stances: someOf(STANCES),
    }),
    v.object({ outcome: v.literal('not-done') }),
  ],
  'is not passed, failed, skipped or not-done',
);

const rolesSchema = v.pipe(
  v.object({ compressor: oneOf(PERSONS), ventilator: oneOf(PERSONS) }, 'is not a pair of roles'),
  v.check((roles) => roles.compressor !== roles.ventilator, 'gives both roles to one person'),
);
const sourceSchema = v.object(
  {
    kind: slug,
    /** The step its times come in: what the switch check found, else what the source says of itself. */
    stepMs: between(0, 1000, 'ms'),
    /** The longest bounce that the switch check saw, 0 when it saw none. Absent: not checked. */
    bounceMs: v.optional(between(0, 200, 'ms')),
  },
  'is not a time source',
);
const MOST_OFFSET_MS = 100;
/**
 * How much later the second switch (airway, or B) tells a press than the first, as the switch check found it.
 * Greater offsets than 100 ms are a fault to look for (tool default). Absent: not known.
 */
export const switchOffsetSchema = v.object(
  {
    /** Median of second less first; positive: the second is later. */
    medianMs: between(-MOST_OFFSET_MS, MOST_OFFSET_MS, 'ms'),
    /** The middle half of the differences spans so much. */
    spreadMs: between(0, 1000, 'ms'),
    /** 95 % of the median's error. */
    errorMs: between(0, 1000, 'ms'),
    /** Presses of both at once. */
    n: between(1, 1_000_000, 'presses'),
    /** True: it is taken out of the score, the later switch's times are moved back by it. The lines stay as they came. */
    applied: v.boolean('is not true or false'),
  },
  'is not an offset between switches',
);

/** So many cycles of the last so many. */
const cyclesOf = v.pipe(
  v.object({ cycles: between(1, 100, 'cycles'), of: between(1, 100, 'cycles') }, 'is not a number of cycles'),
  v.check(({ cycles, of }) => cycles <= of, 'asks for more cycles than it looks at'),
);
/** When a weaned count falls silent and returns; see count/weaning.ts. */
export const weaningSchema = v.object(
  { silentAfter: cyclesOf, returnsAfter: cyclesOf, leastMs: between(0, 600_000, 'ms') },
  'is not a rule for weaning',
);

/** The longest title that a drill is given in the Ledger, in characters (tool default). */
export const LONGEST_TITLE = 120;

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

const call = <const Name extends string, E extends v.ObjectEntries>(name: Name, entries: E) =>
  v.object({ kind: v.literal('call'), at: atMs, call: v.literal(name), ...entries });

/** One entry a call; those without entries say all by their name. */
const callSchemas = {
  begin: call('begin', { stage: v.optional(v.literal('ventilation', 'is not ventilation')) }),
  swap: call('swap', {}),
  taken: call('taken', {}),
  technique: call('technique', { technique: oneOf(TECHNIQUES) }),
  stance: call('stance', { stance: oneOf(STANCES) }),
  airway: call('airway', { airway: oneOf(AIRWAYS) }),
  guidance: call('guidance', { guidance: oneOf(GUIDANCES) }),
  tempo: call('tempo', { cycleMs }),
  /** `given` absent: by voice. */
  'heart-rate': call('heart-rate', {
    bpm: between(0, 300, 'beats a minute'),
    given: v.optional(oneOf(HEART_RATE_WAYS)),
  }),
  check: call('check', {}),
  checked: call('checked', {}),
  rest: call('rest', {}),
  resume: call('resume', {}),
  undo: call('undo', {}),
  finish: call('finish', {}),
};

export type RigCheck = v.InferOutput<typeof rigCheckSchema>;
/**
 * Where the count stood, so that the time of every beat can be computed. `at` only gives such a line its place
 * among the others; it is the time of the line before. Beats are at the drill's times in `fromMs` and `cycleMs`.
 */
const count = <const What extends string, E extends v.ObjectEntries>(what: What, entries: E) =>
  v.object({ kind: v.literal('count'), at: atMs, what: v.literal(what), ...entries });

const countSchemas = {
  /** From this beat on, which may be still to come, at this period: a start, another tempo, or a closer reading. */
  given: count('given', {
    by: oneOf(COUNT_SENSES),
    fromMs: atMs,
    beat: oneOf(BEAT_KINDS),
    /** As measured on the drill's clock: the nominal length but for the drift of the two clocks. */
    cycleMs,
    /** What the browser reported, and what is in `fromMs` already; null where it did not say, or nothing is heard. */
    outputLatencyMs: v.nullable(between(0, 60_000, 'ms')),
    /** Half the width of the 95 % interval of `fromMs`; a latency reported wrongly is not in it. */
    errorMs: v.nullable(between(0, 60_000, 'ms')),
  }),
  /** The last beat that was given, or null where none was. */
  stopped: count('stopped', { lastMs: v.nullable(atMs) }),
};

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
