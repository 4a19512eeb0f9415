import { checkValue, type FileForm, type FileProblem, formatFile, parseFile } from '../json-file.ts';
import { PLAN_VERSION, type Plan, planSchema } from './plan.ts';

/** Characters of a plan file at the most (tool default: a plan has to fit into a journal's open line, beside the rest). */
export const MAX_PLAN_CHARACTERS = 40_000;

export const PLAN_FORM: FileForm<Plan> = {
  noun: 'plan',
  version: PLAN_VERSION,
  schema: planSchema,
  longest: MAX_PLAN_CHARACTERS,
};

/** Why a plan file is refused: the line, from 1, the field by its path (null: the whole), and words that follow its name. */
export type PlanProblem = FileProblem;
export type ParsedPlan = { ok: true; plan: Plan } | { ok: false; problem: PlanProblem };

/** Reads a plan file's text; never throws. A field that no plan has is refused too: it is a slip of the pen. */
export function parsePlan(text: string): ParsedPlan {
  const parsed = parseFile(text, PLAN_FORM);
  return parsed.ok ? { ok: true, plan: parsed.value } : parsed;
}

export type CheckedPlan =
  | { ok: true; plan: Plan }
  | { ok: false; path: readonly (string | number)[]; problem: string };

/** Checks a plan that is already a value; never throws. The path is empty when the whole is wrong. */
export function checkPlan(value: unknown): CheckedPlan {
  const checked = checkValue(value, PLAN_FORM);
  return checked.ok ? { ok: true, plan: checked.value } : checked;
}

/** The plan as its file stands: one field a line, so that a reason's line is easy to find. */
export function formatPlan(plan: Plan): string {
  return formatFile(plan);
}
