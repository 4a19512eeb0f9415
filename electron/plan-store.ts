import { PLAN_SUFFIX, type Plan } from '../machines/plans/plan.ts';
import { PLAN_FORM } from '../machines/plans/plan-file.ts';
import { isPlanFileName } from './arguments.ts';
import type { Result, StoredPlan } from './contract.ts';
import { FileFolder } from './file-folder.ts';

/** The station's own plans, a file each. */
export class PlanStore {
  private readonly files: FileFolder<Plan>;

  constructor(folder: string) {
    this.files = new FileFolder(folder, {
      form: PLAN_FORM,
      suffix: PLAN_SUFFIX,
      isFileName: isPlanFileName,
    });
  }

  async list(): Promise<Result<readonly StoredPlan[]>> {
    const listed = await this.files.list();
    if (!listed.ok) return listed;
    return {
      ok: true,
      value: listed.value.map(({ fileName, ...entry }) =>
        entry.problem === null
          ? { fileName, plan: entry.value, problem: null }
          : { fileName, plan: null, problem: entry.problem },
      ),
    };
  }

  /** Writes a plan whole, in place of the file of that name; with null, to a new file named after the plan. */
  save({ fileName, plan }: { fileName: string | null; plan: Plan }): Promise<Result<{ fileName: string }>> {
    return this.files.save(fileName, plan);
  }

  remove({ fileName }: { fileName: string }): Promise<Result<null>> {
    return this.files.remove(fileName);
  }
}
