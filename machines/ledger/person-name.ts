/**
 * A person is a name, and nothing else: two who write theirs alike are one. Names are alike whatever their capitals, their
 * spaces and the way an accent is coded.
 */

/** Who was removed: the name that stands in place of theirs. It has no page. */
export const SOMEONE = 'someone';

/** The same for names that are alike; null for no one: an empty name, or who was removed. */
export function personKey(name: string): string | null {
  const key = foldedText(name);
  return key === '' || key === SOMEONE ? null : key;
}

/** A text in small letters, with one space between words and one coding of accents, to be compared with others. */
export function foldedText(text: string): string {
  return text.normalize('NFC').toLowerCase().normalize('NFC').trim().replaceAll(/\s+/gu, ' ');
}

/** Scripts that put no spaces between words: there a name ends where it ends. */
const UNSPACED =
  '\\p{sc=Han}\\p{sc=Hiragana}\\p{sc=Katakana}\\p{sc=Thai}\\p{sc=Lao}\\p{sc=Khmer}\\p{sc=Myanmar}';
const WORD_PART = '[\\p{L}\\p{N}\\p{M}]';
const BEGINS_A_WORD = new RegExp(`^(?![${UNSPACED}])${WORD_PART}`, 'u');
const ENDS_A_WORD = new RegExp(`(?![${UNSPACED}])${WORD_PART}$`, 'u');

/**
 * Finds a name where it stands as words of its own, in any capitals and with any spaces, in texts with composed accents (NFC); "Ann"
 * is not found in "channel". Null for a name of nothing but spaces.
 */
export function namePattern(name: string): RegExp | null {
  const words = foldedText(name);
  if (words === '') return null;
  const before = BEGINS_A_WORD.test(words) ? `(?<!${WORD_PART})` : '';
  const after = ENDS_A_WORD.test(words) ? `(?!${WORD_PART})` : '';
  const body = words.replaceAll(/[\\^$.*+?()[\]{}|/]/g, '\\$&').replaceAll(' ', '\\s+');
  return new RegExp(`${before}${body}${after}`, 'giu');
}
