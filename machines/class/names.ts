import { foldedText } from '../ledger/person-name.ts';

/** Tool defaults: one instructor's room, and no more than the turns were tested for. */
export const MOST_PEOPLE = 40;
/** As long as a journal's open line takes a name. */
export const MOST_NAME_CHARACTERS = 80;

/** What was done to pasted names that who pasted them has to know. */
export type NameNotice =
  | { kind: 'same name'; name: string; as: string }
  | { kind: 'cut'; name: string }
  | { kind: 'one comma in every line'; example: string }
  | { kind: 'too many'; leftOut: readonly string[] };

/** Any end of a line, or what stands between names on one. */
const SEPARATOR = /[\r\n\v\f\u0085\u2028\u2029,;\t，；、]/u;
const LINE_END = /[\r\n\v\f\u0085\u2028\u2029]+/u;
/** Of one name: marks nobody sees, but for the joiners that some scripts are written with. */
const UNSEEN = /[\p{Cc}\p{Co}\p{Cs}\u00AD\u200B\u200E\u200F\u2028-\u202E\u2060-\u206F\uFEFF]/gu;

/**
 * The people in a pasted text: a name a line, or several by commas, semicolons or tabs, in Unicode's composed form (NFC). Two
 * of the same name, in whatever capitals, are both kept, the later with a number behind it. `taken`: names that are in the class already, also of those who
 * left; `places`: how many more it takes.
 */
export function readNames(
  text: string,
  taken: readonly string[] = [],
  places: number = MOST_PEOPLE - taken.length,
): { names: string[]; notices: NameNotice[] } {
  const notices: NameNotice[] = [];
  const names: string[] = [];
  const used = new Set(taken.map(foldedText));
  const leftOut: string[] = [];
  for (const part of text.split(SEPARATOR)) {
    const whole = tidy(part);
    if (whole === '') continue;
    const name = cut(whole, MOST_NAME_CHARACTERS);
    if (names.length >= places) {
      leftOut.push(name);
      continue;
    }
    if (name !== whole) notices.push({ kind: 'cut', name });
    const as = freeName(name, used);
    if (as !== name) notices.push({ kind: 'same name', name, as });
    used.add(foldedText(as));
    names.push(as);
  }
  const example = surnameFirst(text);
  if (example !== null) notices.push({ kind: 'one comma in every line', example });
  if (leftOut.length > 0) notices.push({ kind: 'too many', leftOut });
  return { names, notices };
}

/** Composed, without what nobody sees, any white space within as one space. Empty: no name. */
export function tidy(name: string): string {
  return name.normalize('NFC').replaceAll(UNSEEN, '').replaceAll(/\s+/gu, ' ').trim();
}

/** Are they written alike? As everywhere on the station, in any capitals and with any spaces. */
export function isSameName(one: string, other: string): boolean {
  return foldedText(tidy(one)) === foldedText(tidy(other));
}

/** "Ada (2), or a higher number where that is somebody's name too. */
function freeName(name: string, used: ReadonlySet<string>): string {
  let free = name;
  for (let number = 2; used.has(foldedText(free)); number += 1) {
    const mark = ` (${number})`;
    free = `${cut(name, MOST_NAME_CHARACTERS - mark.length)}${mark}`;
  }
  return free;
}

/** At most so many UTF-16 units, as files count them, and no character cut in two. */
function cut(name: string, most: number): string {
  if (name.length <= most) return name;
  let short = '';
  for (const character of name) {
    if (short.length + character.length > most) break;
    short += character;
  }
  return short.trimEnd();
}

/** A first line such as "Lovelace, Ada", where every one of several lines is like that; else null. */
function surnameFirst(text: string): string | null {
  const lines = text.split(LINE_END).filter((line) => tidy(line) !== '');
  const isLikely = lines.every((line) => /^[^,;\t]*[^,;\t\s][^,;\t]*,[^,;\t]*[^,;\t\s][^,;\t]*$/u.test(line));
  return lines.length > 1 && isLikely ? tidy(lines[0] ?? '') : null;
}
