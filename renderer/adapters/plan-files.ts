import { PLAN_SUFFIX, type Plan } from '../../machines/plans/plan.ts';
import {
  formatPlan,
  MAX_PLAN_CHARACTERS,
  type ParsedPlan,
  parsePlan,
} from '../../machines/plans/plan-file.ts';

/** A plan as a file to be taken elsewhere: the browser asks, or puts it with the downloads. */
export function sharePlan(plan: Plan, document: Document): void {
  const address = URL.createObjectURL(new Blob([formatPlan(plan)], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = `${fileWords(plan.name)}${PLAN_SUFFIX}`;
  link.click();
  URL.revokeObjectURL(address);
}

/** Reads a file that was chosen; null when it cannot be read at all. Never rejects. */
export async function readPlanFile(file: Blob): Promise<ParsedPlan | null> {
  try {
    // What is too long is refused by its first part, without reading a film into the window.
    return parsePlan(await file.slice(0, 6 * MAX_PLAN_CHARACTERS + 1).text());
  } catch {
    return null;
  }
}

/** Words that every file system takes as a name. */
function fileWords(name: string): string {
  const words = name.replaceAll(/[^\p{L}\p{N} ()-]+/gu, ' ').trim();
  return words === '' ? 'Plan' : words;
}
