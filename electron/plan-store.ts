import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { PLAN_SUFFIX, type Plan } from '../machines/plans/plan.ts';
import { formatPlan, MAX_PLAN_CHARACTERS, parsePlan, planProblemWords } from '../machines/plans/plan-file.ts';
import { isPlanFileName } from './arguments.ts';
import type { Failure, Result, StoredPlan } from './contract.ts';
import { codeOf } from './disk-failure.ts';

/** A character takes up to three bytes, and up to six where JSON writes it as \uXXXX. */
const MAX_PLAN_BYTES = 6 * MAX_PLAN_CHARACTERS;

/**
 * The station's own plans, a file each, in one folder that anybody may put files into. A file that is no plan is listed with
 * its line and reason, and left as it is.
 */
export class PlanStore {
  private readonly folder: string;
  private writing: Promise<unknown> = Promise.resolve();

  constructor(folder: string) {
    this.folder = folder;
  }

  /** In the order of their file names; none when there is no folder yet. */
  async list(): Promise<Result<readonly StoredPlan[]>> {
    try {
      const names = (await this.names()).sort();
      return { ok: true, value: await Promise.all(names.map((name) => this.read(name))) };
    } catch (error) {
      return failure(`the plans cannot be read (${codeOf(error)})`);
    }
  }

  /** Writes a plan whole, in place of the file of that name; with null, to a new file named after the plan. */
  save(wanted: { fileName: string | null; plan: Plan }): Promise<Result<{ fileName: string }>> {
    return this.inTurn(async () => {
      try {
        await mkdir(this.folder, { recursive: true, mode: 0o700 });
        const fileName = wanted.fileName ?? freeName(wanted.plan.name, await this.names());
        const path = join(this.folder, fileName);
        await writeWhole(`${path}.new`, formatPlan(wanted.plan));
        await rename(`${path}.new`, path);
        return { ok: true, value: { fileName } };
      } catch (error) {
        return failure(`the plan cannot be saved (${codeOf(error)})`);
      }
    });
  }

  /** Removes a plan's file; one that is gone already is no failure. */
  remove({ fileName }: { fileName: string }): Promise<Result<null>> {
    return this.inTurn(async () => {
      try {
        await rm(join(this.folder, fileName), { force: true });
        return { ok: true, value: null };
      } catch (error) {
        return failure(`the plan cannot be removed (${codeOf(error)})`);
      }
    });
  }

  private async names(): Promise<string[]> {
    try {
      return (await readdir(this.folder)).filter(isPlanFileName);
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return [];
      throw error;
    }
  }

  private async read(fileName: string): Promise<StoredPlan> {
    try {
      const path = join(this.folder, fileName);
      const facts = await stat(path);
      if (!facts.isFile()) return { fileName, plan: null, problem: 'this is a folder, not a plan' };
      if (facts.size > MAX_PLAN_BYTES)
        return { fileName, plan: null, problem: 'line 1: the file is too long for a plan' };
      const parsed = parsePlan(await readFile(path, 'utf8'));
      return parsed.ok
        ? { fileName, plan: parsed.plan, problem: null }
        : { fileName, plan: null, problem: planProblemWords(parsed.problem) };
    } catch (error) {
      return { fileName, plan: null, problem: `it cannot be read (${codeOf(error)})` };
    }
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.writing.then(work);
    this.writing = done;
    return done;
  }
}

/** `two-minutes-1.antiphon-plan.json`: numbered, so that no name is one that Windows keeps for itself. */
function freeName(planName: string, taken: readonly string[]): string {
  const words = planName
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 60);
  const stem = words === '' ? 'plan' : words;
  let number = 1;
  // Some disks take capitals and small letters for the same.
  const names = new Set(taken.map((name) => name.normalize('NFC').toLowerCase()));
  while (names.has(`${stem}-${number}${PLAN_SUFFIX}`)) number += 1;
  return `${stem}-${number}${PLAN_SUFFIX}`;
}

async function writeWhole(path: string, text: string): Promise<void> {
  const file = await open(path, 'w', 0o600);
  try {
    await file.writeFile(text, 'utf8');
    await file.sync();
  } finally {
    await file.close();
  }
}

function failure(message: string): Failure {
  return { ok: false, code: 'disk', message };
}
