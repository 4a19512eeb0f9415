import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type FileForm, fileProblemWords, formatFile, parseFile } from '../machines/json-file.ts';
import type { Failure, Result } from './contract.ts';
import { codeOf } from './disk-failure.ts';
import { writeWholeFile } from './whole-file.ts';

/** One file of a folder: its value, or what is wrong with it ("line 12: legs.3.seconds is …"). */
export type FolderEntry<T> = { fileName: string } & (
  | { value: T; problem: null }
  | { value: null; problem: string }
);

/** A character takes up to three bytes, and up to six where JSON writes it as \uXXXX. */
const BYTES_A_CHARACTER = 6;

/**
 * Files of one form, in one folder that anybody may put files into. A file that is none is listed with its line and reason, and
 * left as it is.
 */
export class FileFolder<T extends { name: string }> {
  private readonly folder: string;
  private readonly form: FileForm<T>;
  private readonly suffix: string;
  private readonly isFileName: (name: string) => boolean;
  private writing: Promise<unknown> = Promise.resolve();

  constructor(
    folder: string,
    {
      form,
      suffix,
      isFileName,
    }: { form: FileForm<T>; suffix: string; isFileName: (name: string) => boolean },
  ) {
    this.folder = folder;
    this.form = form;
    this.suffix = suffix;
    this.isFileName = isFileName;
  }

  /** In the order of their file names; none when there is no folder yet. */
  async list(): Promise<Result<readonly FolderEntry<T>[]>> {
    try {
      const names = (await this.names()).sort();
      return { ok: true, value: await Promise.all(names.map((name) => this.read(name))) };
    } catch (error) {
      return failure(`the ${this.form.noun}s cannot be read (${codeOf(error)})`);
    }
  }

  /** Writes one whole, in place of the file of that name; with null, to a new file that is named after it. */
  save(fileName: string | null, value: T): Promise<Result<{ fileName: string }>> {
    return this.inTurn(async () => {
      try {
        await mkdir(this.folder, { recursive: true, mode: 0o700 });
        const name = fileName ?? this.freeName(value.name, await this.names());
        await writeWholeFile(join(this.folder, name), formatFile(value));
        return { ok: true, value: { fileName: name } };
      } catch (error) {
        return failure(`the ${this.form.noun} cannot be saved (${codeOf(error)})`);
      }
    });
  }

  /** Removes a file; one that is gone already is no failure. */
  remove(fileName: string): Promise<Result<null>> {
    return this.inTurn(async () => {
      try {
        await rm(join(this.folder, fileName), { force: true });
        return { ok: true, value: null };
      } catch (error) {
        return failure(`the ${this.form.noun} cannot be removed (${codeOf(error)})`);
      }
    });
  }

  private async names(): Promise<string[]> {
    try {
      return (await readdir(this.folder)).filter(this.isFileName);
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return [];
      throw error;
    }
  }

  private async read(fileName: string): Promise<FolderEntry<T>> {
    const { noun, longest } = this.form;
    const refuse = (problem: string): FolderEntry<T> => ({ fileName, value: null, problem });
    try {
      const path = join(this.folder, fileName);
      const facts = await stat(path);
      if (!facts.isFile()) return refuse(`this is a folder, not a ${noun}`);
      if (facts.size > BYTES_A_CHARACTER * longest)
        return refuse(`line 1: the file is too long for a ${noun}`);
      const parsed = parseFile(await readFile(path, 'utf8'), this.form);
      return parsed.ok
        ? { fileName, value: parsed.value, problem: null }
        : refuse(fileProblemWords(parsed.problem));
    } catch (error) {
      return refuse(`it cannot be read (${codeOf(error)})`);
    }
  }

  /** `two-minutes-1.antiphon-plan.json`: numbered, so that no name is one that Windows keeps for itself. */
  private freeName(name: string, taken: readonly string[]): string {
    const words = name
      .normalize('NFKD')
      .replaceAll(/\p{M}/gu, '')
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-+|-+$/g, '')
      .slice(0, 60);
    const stem = words === '' ? this.form.noun : words;
    let number = 1;
    // Some disks take capitals and small letters for the same.
    const names = new Set(taken.map((one) => one.normalize('NFC').toLowerCase()));
    while (names.has(`${stem}-${number}${this.suffix}`)) number += 1;
    return `${stem}-${number}${this.suffix}`;
  }

  private inTurn<R>(work: () => Promise<R>): Promise<R> {
    const done = this.writing.then(work);
    this.writing = done;
    return done;
  }
}

function failure(message: string): Failure {
  return { ok: false, code: 'disk', message };
}
