import { type FileForm, formatFile, type ParsedFile, parseFile } from '../../machines/json-file.ts';

/** A value as a file to be taken elsewhere, named in words: the browser asks, or puts it with the downloads. */
export function shareFile(value: unknown, name: string, suffix: string, document: Document): void {
  const address = URL.createObjectURL(new Blob([formatFile(value)], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = `${fileWords(name)}${suffix}`;
  link.click();
  URL.revokeObjectURL(address);
}

/** Reads a file that was chosen; null when it cannot be read at all. Never rejects. */
export async function readChosenFile<T>(file: Blob, form: FileForm<T>): Promise<ParsedFile<T> | null> {
  try {
    // What is too long is refused by its first part, without reading a film into the window.
    return parseFile(await file.slice(0, 6 * form.longest + 1).text(), form);
  } catch {
    return null;
  }
}

/** Words that every file system takes as a name. */
function fileWords(name: string): string {
  const words = name.replaceAll(/[^\p{L}\p{N} ()-]+/gu, ' ').trim();
  return words === '' ? 'Antiphon' : words;
}
