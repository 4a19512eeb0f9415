import { basename } from 'node:path';
import { JOURNAL_SUFFIX } from '../../machines/journal.ts';

/** A journal's file name without its ending, for the names of what is made from it. */
export function stemOf(file: string): string {
  return basename(file).replace(new RegExp(`${JOURNAL_SUFFIX.replaceAll('.', '\\.')}$|\\.[^.]*$`), '');
}
