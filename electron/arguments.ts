import * as v from 'valibot';
import { checkClass } from '../machines/class/class-file.ts';
import { WEANING } from '../machines/count/weaning.ts';
import { INSTRUCTOR_KEYS } from '../machines/instructor-keys.ts';
import {
  AIRWAYS,
  BINDINGS,
  type BodyLine,
  checkLine,
  GUIDANCES,
  isoTime,
  type Line,
  LONGEST_TITLE,
  type OpenLine,
  PERSONS,
  RIGS,
  rigCheckSchema,
  STANCES,
  switchOffsetSchema,
  TECHNIQUES,
  TOLERANCES,
  weaningSchema,
} from '../machines/journal.ts';
import { personKey } from '../machines/ledger/person-name.ts';
import { checkPlan } from '../machines/plans/plan-file.ts';
import { isRemark, type RemarkLine } from '../machines/remarks.ts';
import { checkStandard } from '../machines/standard/standard-file.ts';
import { LANGUAGES } from '../machines/words/languages.ts';
import {
  type BridgeRequests,
  type Channel,
  type Failure,
  FIRST_SOUND,
  MAX_BATCH_LINES,
  MAX_LEDGER_COUNT,
  MAX_LEDGER_FROM,
  MAX_REMARKS,
  PITCHES,
  type Remark,
  WINDOW_ROLES,
} from './contract.ts';

/** What windows send, checked before anything is done with it: nothing of a page is believed. */

const uuid = v.pipe(v.string(), v.uuid());
const keyCode = v.pipe(v.string(), v.regex(/^[A-Za-z0-9]{1,32}$/));
const small = (most: number) => v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(most));
const padEntries = { pad: v.pipe(v.string(), v.maxLength(200)), index: small(15) };
const bindingSchema = v.variant('kind', [
  v.strictObject({ kind: v.literal('key'), code: keyCode }),
  v.strictObject({ kind: v.literal('pad-button'), ...padEntries, button: small(255) }),
  v.strictObject({
    kind: v.literal('pad-axis'),
    ...padEntries,
    axis: small(255),
    rest: v.picklist([-1, 0, 1]),
    towards: v.picklist([-1, 1]),
  }),
]);
const foundSchema = v.strictObject({
  stepMs: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1000))),
  bounceMs: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(200))),
});
const settingsSchema = v.strictObject({
  people: v.strictObject({ A: v.pipe(v.string(), v.maxLength(80)), B: v.pipe(v.string(), v.maxLength(80)) }),
  switches: v.strictObject({ chest: bindingSchema, airway: bindingSchema }),
  boundAt: v.nullable(isoTime),
  rigCheck: v.nullable(rigCheckSchema),
  // Settings from before there was a switch check have none.
  switchCheck: v.optional(
    v.nullable(
      v.strictObject({
        at: isoTime,
        found: v.strictObject({
          sources: v.strictObject({ chest: foundSchema, airway: foundSchema }),
          switchOffset: v.optional(switchOffsetSchema),
          bounceMs: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(200))),
          bounceProblem: v.optional(v.pipe(v.string(), v.maxLength(300))),
        }),
      }),
    ),
    null,
  ),
  isBegunByHolding: v.boolean(),
  instructorKeys: v.record(v.picklist(INSTRUCTOR_KEYS), keyCode),
  rig: v.picklist(RIGS),
  guideline: v.pipe(v.string(), v.regex(/^[a-z0-9][a-z0-9-]{0,63}$/)),
  binding: v.picklist(BINDINGS),
  airway: v.picklist(AIRWAYS),
  tolerance: v.picklist(TOLERANCES),
  roles: v.strictObject({ compressor: v.picklist(PERSONS), ventilator: v.picklist(PERSONS) }),
  technique: v.picklist(TECHNIQUES),
  stance: v.picklist(STANCES),
  guidance: v.picklist(GUIDANCES),
  // Settings of an earlier release have none of these.
  tempo: v.optional(v.picklist(['usual', 'slow']), 'usual'),
  weaning: v.optional(weaningSchema, WEANING),
  stations: v.optional(v.picklist(['one', 'several']), 'one'),
  sound: v.optional(
    v.strictObject({
      isOn: v.boolean(),
      volume: v.pipe(v.number(), v.minValue(0), v.maxValue(1)),
      pitch: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(PITCHES)),
    }),
    FIRST_SOUND,
  ),
  plan: v.optional(v.nullable(v.pipe(v.string(), v.maxLength(120))), null),
  dueAfterDays: v.nullable(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(3650))),
  language: v.picklist(LANGUAGES),
  cautionsReadAt: v.nullable(isoTime),
});
/** No path, no hidden file, nothing that a file system takes for more than a name. */
const PLAN_FILE_NAME = /^[\p{L}\p{N}][\p{L}\p{N} ._()-]{0,99}\.antiphon-plan\.json$/u;
const STANDARD_FILE_NAME = /^[\p{L}\p{N}][\p{L}\p{N} ._()-]{0,99}\.antiphon-standard\.json$/u;
const planFileName = v.pipe(v.string(), v.regex(PLAN_FILE_NAME));
const standardFileName = v.pipe(v.string(), v.regex(STANDARD_FILE_NAME));
const batchSchema = v.strictObject({
  drillId: uuid,
  windowId: uuid,
  sequence: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(Number.MAX_SAFE_INTEGER)),
  lines: v.pipe(v.array(v.unknown()), v.minLength(1), v.maxLength(MAX_BATCH_LINES)),
});
const remarkedSchema = v.strictObject({
  drillId: uuid,
  remarks: v.pipe(v.array(v.looseObject({})), v.minLength(1), v.maxLength(MAX_REMARKS)),
});
const hostMs = v.pipe(v.number(), v.finite());
const attendanceSchema = v.strictObject({
  drillId: uuid,
  windowId: uuid,
  role: v.picklist(WINDOW_ROLES),
  hasFocus: v.boolean(),
  zero: v.nullable(
    v.strictObject({ hostMs, errorMs: v.nullable(v.pipe(v.number(), v.finite(), v.minValue(0))) }),
  ),
});

/** The longest name that a journal has. */
const personName = v.pipe(
  v.string(),
  v.maxLength(80),
  v.check((name) => personKey(name) !== null, 'names nobody'),
);
const text = (longest: number) => v.pipe(v.string(), v.maxLength(longest));
const ledgerQuerySchema = v.strictObject({
  filter: v.strictObject({
    from: v.nullable(isoTime),
    before: v.nullable(isoTime),
    person: v.nullable(text(80)),
    plan: v.nullable(text(80)),
    rig: v.nullable(v.picklist(RIGS)),
    technique: v.nullable(v.picklist(TECHNIQUES)),
    text: v.nullable(text(200)),
    archived: v.picklist(['without', 'only', 'with']),
  }),
  from: small(MAX_LEDGER_FROM),
  count: v.pipe(small(MAX_LEDGER_COUNT), v.minValue(1)),
});
const filingSchema = v.strictObject({
  drillId: uuid,
  title: v.nullable(text(LONGEST_TITLE)),
  archived: v.boolean(),
});
const correctionSchema = v.strictObject({ from: personName, to: personName, drillId: v.nullable(uuid) });

type Parsed<C extends Channel> = { ok: true; value: BridgeRequests[C]['argument'] } | Failure;

/** A name for a PDF that no system takes for a path. */
const paperName = v.pipe(
  v.string(),
  v.regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,120}\.pdf$/, 'is no name of a PDF'),
);

/** A parser for every argument, from `unknown`; never throws. */
export const parseArgument: { [C in Channel]: (argument: unknown) => Parsed<C> } = {
  'station:facts': parseNothing,
  'settings:load': parseNothing,
  'settings:save': (argument) => parseWith(settingsSchema, argument),
  'drill:open': (argument) => {
    if (typeof argument !== 'object' || argument === null) return badArgument('a drill needs a set-up');
    const parsed = checkLine({
      ...argument,
      kind: 'open',
      version: 1,
      id: '00000000-0000-4000-8000-000000000000',
      openedAt: '2000-01-01T00:00:00Z',
    });
    if (!parsed.ok) return badArgument(`${parsed.field ?? 'set-up'} ${parsed.problem}`);
    const {
      kind: _kind,
      version: _version,
      id: _id,
      openedAt: _openedAt,
      filed: _filed,
      ...setup
    } = parsed.line as OpenLine;
    return { ok: true, value: setup };
  },
  'drill:append': (argument) => {
    const batch = parseWith(batchSchema, argument);
    if (!batch.ok) return batch;
    const lines: BodyLine[] = [];
    for (const value of batch.value.lines) {
      const parsed = checkLine(value);
      if (!parsed.ok)
        return { ok: false, code: 'bad-line', message: `${parsed.field ?? 'line'} ${parsed.problem}` };
      if (!isBodyLine(parsed.line))
        return { ok: false, code: 'bad-line', message: `kind may not be sent: ${parsed.line.kind}` };
      lines.push(parsed.line);
    }
    return { ok: true, value: { ...batch.value, lines } };
  },
  'drill:read': (argument) => parseWith(v.strictObject({ drillId: uuid }), argument),
  'drill:remark': (argument) => {
    const wanted = parseWith(remarkedSchema, argument);
    if (!wanted.ok) return wanted;
    const remarks: Remark[] = [];
    for (const value of wanted.value.remarks) {
      // Times are the host's to give: these only fill the line's place while it is checked.
      const parsed = checkLine({ ...value, at: 0, signedAt: '2000-01-01T00:00:00Z' });
      if (!parsed.ok)
        return { ok: false, code: 'bad-line', message: `${parsed.field ?? 'line'} ${parsed.problem}` };
      if (!isRemark(parsed.line))
        return { ok: false, code: 'bad-line', message: `kind may not be sent: ${parsed.line.kind}` };
      remarks.push(remarkOf(parsed.line));
    }
    return { ok: true, value: { drillId: wanted.value.drillId, remarks } };
  },
  'drill:list': parseNothing,
  'ledger:list': (argument) => parseWith(ledgerQuerySchema, argument),
  'ledger:people': parseNothing,
  'ledger:person': (argument) => parseWith(v.strictObject({ name: personName }), argument),
  'ledger:file': (argument) => parseWith(filingSchema, argument),
  'ledger:rename-person': (argument) => parseWith(correctionSchema, argument),
  'ledger:remove-person': (argument) => parseWith(v.strictObject({ name: personName }), argument),
  'ledger:remove-drill': (argument) => parseWith(v.strictObject({ drillId: uuid }), argument),
  'ledger:search': (argument) => parseWith(v.strictObject({ name: personName }), argument),
  'plan:list': parseNothing,
  'plan:save': (argument) => {
    const schema = v.strictObject({ fileName: v.nullable(planFileName), plan: v.unknown() });
    const wanted = parseWith(schema, argument);
    if (!wanted.ok) return wanted;
    const checked = checkPlan(wanted.value.plan);
    if (!checked.ok) return badArgument(`${['plan', ...checked.path].join('.')} ${checked.problem}`);
    return { ok: true, value: { fileName: wanted.value.fileName, plan: checked.plan } };
  },
  'plan:remove': (argument) => parseWith(v.strictObject({ fileName: planFileName }), argument),
  'standard:list': parseNothing,
  'standard:save': (argument) => {
    const schema = v.strictObject({ fileName: v.nullable(standardFileName), standard: v.unknown() });
    const wanted = parseWith(schema, argument);
    if (!wanted.ok) return wanted;
    const checked = checkStandard(wanted.value.standard);
    if (!checked.ok) return badArgument(`${['standard', ...checked.path].join('.')} ${checked.problem}`);
    return { ok: true, value: { fileName: wanted.value.fileName, standard: checked.value } };
  },
  'standard:remove': (argument) => parseWith(v.strictObject({ fileName: standardFileName }), argument),
  'class:load': parseNothing,
  'class:save': (argument) => {
    const checked = checkClass(argument);
    return checked.ok ? checked : badArgument(`${['class', ...checked.path].join('.')} ${checked.problem}`);
  },
  'drill:current': parseNothing,
  'drill:attend': (argument) => parseWith(attendanceSchema, argument),
  'clock:ping': parseNothing,
  'paper:save': (argument) => parseWith(v.strictObject({ fileName: paperName }), argument),
  'window:open': (argument) => parseWith(v.strictObject({ role: v.picklist(WINDOW_ROLES) }), argument),
};

export function isPlanFileName(name: string): boolean {
  return PLAN_FILE_NAME.test(name);
}

export function isStandardFileName(name: string): boolean {
  return STANDARD_FILE_NAME.test(name);
}

function parseNothing(argument: unknown): { ok: true; value: null } | Failure {
  return argument === null || argument === undefined
    ? { ok: true, value: null }
    : badArgument('this request takes no argument');
}

function parseWith<T>(
  schema: v.GenericSchema<unknown, T>,
  argument: unknown,
): { ok: true; value: T } | Failure {
  const result = v.safeParse(schema, argument, { abortEarly: true });
  if (result.success) return { ok: true, value: result.output };
  const issue = result.issues[0];
  const path = issue.path?.map((item) => String(item.key)).join('.') ?? 'argument';
  return badArgument(`${path}: ${issue.message}`);
}

function badArgument(message: string): Failure {
  return { ok: false, code: 'bad-argument', message };
}

function remarkOf(line: RemarkLine): Remark {
  if (line.kind === 'mark') return { kind: line.kind, row: line.row, missed: line.missed };
  const { kind, person, by, standard, decision } = line;
  return { kind, person, by, standard, decision };
}

/** A signature has the host's time, and goes another way. */
function isBodyLine(line: Line): line is BodyLine {
  return (
    line.kind !== 'open' && line.kind !== 'unknown' && line.kind !== 'recovered' && line.kind !== 'signature'
  );
}
