import * as v from 'valibot';
import { findPlaces } from './json-places.ts';
import { PLAN_VERSION, type Plan, planSchema } from './plan.ts';

/** Characters of a plan file at the most (tool default: a plan has to fit into a journal's open line, beside the rest). */
export const MAX_PLAN_CHARACTERS = 40_000;

/** Why a plan file is refused: the line, from 1, the field by its path (null: the whole), and words that follow its name. */
export type PlanProblem = { line: number; field: string | null; problem: string };
export type ParsedPlan = { ok: true; plan: Plan } | { ok: false; problem: PlanProblem };
type Path = readonly (string | number)[];

/** Reads a plan file's text; never throws. A field that no plan has is refused too: it is a slip of the pen. */
export function parsePlan(text: string): ParsedPlan {
  if (text.length > MAX_PLAN_CHARACTERS) {
    return refuse(1, [], `the file is longer than ${MAX_PLAN_CHARACTERS} characters`);
  }
  // A byte order mark is no part of JSON, and some editors write one.
  const json = text.replace(/^\uFEFF/, '');
  if (json.trim() === '') return refuse(1, [], 'the file is empty');
  const places = findPlaces(json);
  if (!places.ok) return refuse(places.line, [], 'here the text is not JSON');
  const value: unknown = JSON.parse(json);
  const checked = checkPlan(value);
  if (checked.ok) return checked;
  return refuse(places.lineOf(checked.path), checked.path, checked.problem);
}

export type CheckedPlan = { ok: true; plan: Plan } | { ok: false; path: Path; problem: string };

/** Checks a plan that is already a value; never throws. The path is empty when the whole is wrong. */
export function checkPlan(value: unknown): CheckedPlan {
  if (!isRecord(value)) return { ok: false, path: [], problem: 'this is not a plan' };
  if (typeof value.version === 'number' && value.version > PLAN_VERSION) {
    return {
      ok: false,
      path: ['version'],
      problem: `is ${value.version}: this plan was made by a newer release`,
    };
  }
  const result = v.safeParse(planSchema, value, { abortEarly: true });
  if (!result.success) {
    const issue = result.issues[0];
    const path = (issue.path ?? []).map(({ key }) => key as string | number);
    return { ok: false, path, problem: issue.received === 'undefined' ? 'is missing' : issue.message };
  }
  const stranger = strangerIn(value, result.output);
  if (stranger !== null) return { ok: false, path: stranger, problem: 'is not a field of a plan' };
  return { ok: true, plan: result.output };
}

/** The plan as its file stands: one field a line, so that a reason's line is easy to find. */
export function formatPlan(plan: Plan): string {
  return `${JSON.stringify(plan, null, 2)}\n`;
}

/** "line 12: legs.3.seconds is not 5 to 3600 s, whole". */
export function planProblemWords({ line, field, problem }: PlanProblem): string {
  return `line ${line}: ${field === null ? '' : `${field} `}${problem}`;
}

function refuse(line: number, path: Path, problem: string): ParsedPlan {
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
