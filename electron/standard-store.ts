import { STANDARD_SUFFIX, type Standard } from '../machines/standard/standard.ts';
import { STANDARD_FORM } from '../machines/standard/standard-file.ts';
import { isStandardFileName } from './arguments.ts';
import type { Result, StoredStandard } from './contract.ts';
import { FileFolder } from './file-folder.ts';

/** The standards of the station's courses, a file each. The example is in none of them: it comes with the station. */
export class StandardStore {
  private readonly files: FileFolder<Standard>;

  constructor(folder: string) {
    this.files = new FileFolder(folder, {
      form: STANDARD_FORM,
      suffix: STANDARD_SUFFIX,
      isFileName: isStandardFileName,
    });
  }

  async list(): Promise<Result<readonly StoredStandard[]>> {
    const listed = await this.files.list();
    if (!listed.ok) return listed;
    return {
      ok: true,
      value: listed.value.map(({ fileName, ...entry }) =>
        entry.problem === null
          ? { fileName, standard: entry.value, problem: null }
          : { fileName, standard: null, problem: entry.problem },
      ),
    };
  }

  /** Writes a standard whole, in place of the file of that name; with null, to a new file named after the standard. */
  save(wanted: { fileName: string | null; standard: Standard }): Promise<Result<{ fileName: string }>> {
    return this.files.save(wanted.fileName, wanted.standard);
  }

  remove({ fileName }: { fileName: string }): Promise<Result<null>> {
    return this.files.remove(fileName);
  }
}
