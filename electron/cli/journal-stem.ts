import { basename } from 'node:path';
import { JOURNAL_SUFFIX, type OpenLine } from '../../machines/journal.ts';

/** A journal's file name without its ending, for the names of what is made from it. */
export function stemOf(file: string): string {
  return basename(file).replace(new RegExp(`${JOURNAL_SUFFIX.replaceAll('.', '\\.')}$|\\.[^.]*$`), '');
}

/** What a journal is called where no name may stand: whoever named the file may have named people in it. */
export function nameOf(file: string, { id }: Pick<OpenLine, 'id'>, areNamesLeftOut: boolean): string {
  return areNamesLeftOut ? `drill-${id.slice(0, 8)}${JOURNAL_SUFFIX}` : basename(file);
}
