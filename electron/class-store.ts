import { mkdir, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import { CLASS_VERSION, type ClassFile, formatClass, parseClass } from '../machines/class/class-file.ts';
import { isNewer } from '../machines/json-file.ts';
import type { Failure, Result } from './contract.ts';
import { codeOf } from './disk-failure.ts';
import { writeWholeFile } from './whole-file.ts';

type Stored = { kind: 'class'; stored: ClassFile } | { kind: 'none' | 'bad' | 'newer' };

/**
 * The day's class, in one JSON file. A file that is no class is put aside as `….bad` when a class is saved; one of a newer release
 * stays as it is, and nothing is saved over it.
 */
export class ClassStore {
  private readonly path: string;
  private saving: Promise<unknown> = Promise.resolve();

  constructor(path: string) {
    this.path = path;
  }

  /** Null when there is no class that can be read. A newer release's is a failure that says so. */
  async load(): Promise<Result<ClassFile | null>> {
    try {
      const found = await this.readStored();
      if (found.kind === 'newer') return newerVersion();
      return { ok: true, value: found.kind === 'class' ? found.stored : null };
    } catch (error) {
      return diskFailure('read', error);
    }
  }

  save(wanted: ClassFile): Promise<Result<null>> {
    const saved = this.saving.then(() => this.write(wanted));
    this.saving = saved;
    return saved;
  }

  private async write(wanted: ClassFile): Promise<Result<null>> {
    try {
      const { kind } = await this.readStored();
      if (kind === 'newer') return newerVersion();
      if (kind === 'bad') await rename(this.path, `${this.path}.bad`);
      await mkdir(dirname(this.path), { recursive: true, mode: 0o700 });
      await writeWholeFile(this.path, formatClass(wanted));
      return { ok: true, value: null };
    } catch (error) {
      return diskFailure('saved', error);
    }
  }

  private async readStored(): Promise<Stored> {
    let text: string;
    try {
      text = await readFile(this.path, 'utf8');
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return { kind: 'none' };
      throw error;
    }
    const parsed = parseClass(text);
    if (parsed.ok) return { kind: 'class', stored: parsed.value };
    return { kind: isOfNewerRelease(text) ? 'newer' : 'bad' };
  }
}

function isOfNewerRelease(text: string): boolean {
  try {
    return isNewer(JSON.parse(text), CLASS_VERSION);
  } catch {
    return false;
  }
}

function newerVersion(): Failure {
  const message = 'the class was saved by a newer release and is left untouched';
  return { ok: false, code: 'newer-version', message };
}

function diskFailure(what: 'read' | 'saved', error: unknown): Failure {
  return { ok: false, code: 'disk', message: `the class cannot be ${what} (${codeOf(error)})` };
}
