import type { Failure } from './contract.ts';

/** What the disk said, as words for the people at the station: no path, no stack. */
export function diskFailure(error: unknown): Failure {
  return { ok: false, code: 'disk', message: writeProblem(codeOf(error)) };
}

/** The same of a change that is made whole or not at all. */
export function changeFailure(error: unknown): Failure {
  return { ok: false, code: 'disk', message: writeProblem(codeOf(error), 'nothing was changed') };
}

/** Why a file cannot be read, as words that follow `file:1: `. */
export function readProblem(error: unknown): string {
  const code = codeOf(error);
  switch (code) {
    case 'ENOENT':
    case 'ENOTDIR':
      return 'there is no such file';
    case 'EISDIR':
      return 'this is a folder, not a journal';
    case 'EACCES':
    case 'EPERM':
      return 'there is no permission to read it';
    default:
      return `it cannot be read (${code})`;
  }
}

/** The system's short name for an error (`ENOSPC`), or `unknown`. */
export function codeOf(error: unknown): string {
  const hasCode = typeof error === 'object' && error !== null && 'code' in error;
  return hasCode && typeof error.code === 'string' ? error.code : 'unknown';
}

function writeProblem(code: string, so = 'these lines are not saved'): string {
  switch (code) {
    case 'ENOSPC':
    case 'EDQUOT':
      return `the disk is full: ${so}`;
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return `there is no permission to write the journal: ${so}`;
    case 'EIO':
      return `the disk reports a fault: ${so}`;
    default:
      return `the journal cannot be written (${code}): ${so}`;
  }
}
