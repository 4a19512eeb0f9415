import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_NAME_CHARACTERS, MOST_PEOPLE, readNames } from '../../../machines/class/names.ts';
import { nameNoticeWords } from '../../../machines/words/class-words.ts';

describe('pasted names', () => {
  it.each([
    ['one a line', 'Ada\nBen\r\nCleo', ['Ada', 'Ben', 'Cleo']],
    ['commas, semicolons and tabs', 'Ada, Ben;Cleo\tDan', ['Ada', 'Ben', 'Cleo', 'Dan']],
    ['empty lines, white space, no end', '\n  Ada \n\n ,;\t\n Ben  B. \n', ['Ada', 'Ben B.']],
    ['nothing', ' \n\t', []],
    ['a byte order mark and a zero-width space', '\uFEFFAda\n\u200BBen', ['Ada', 'Ben']],
    ['other scripts and their commas', '王芳、李娜，Ζωή', ['王芳', '李娜', 'Ζωή']],
    ['decomposed letters, composed', 'Zoe\u0308', ['Zo\u00EB']],
    ['a joiner that the script is written with', 'نرگس\u200Cخانم', ['نرگس\u200Cخانم']],
  ])('are read from %s', (_what, text, names) => {
    expect(readNames(text)).toEqual({ names, notices: [] });
  });

  it('of two people of one name are both kept, told apart, and it is said', () => {
    const { names, notices } = readNames('Zoë\nAda (2)\nAda\nZoe\u0308\nAda');
    expect(names).toEqual(['Zoë', 'Ada (2)', 'Ada', 'Zoë (2)', 'Ada (3)']);
    expect(notices.map(nameNoticeWords)).toEqual([
      'There is a Zoë already: this one is “Zoë (2)”. Write a surname, or take one out if it is the same person.',
      'There is a Ada already: this one is “Ada (3)”. Write a surname, or take one out if it is the same person.',
    ]);
  });

  it('of latecomers are told apart from those in the class', () => {
    expect(readNames('Ada', ['Ada', 'Ben']).names).toEqual(['Ada (2)']);
    // The Ledger knows them as one person too.
    expect(readNames('ADA', ['Ada', 'Ben']).names).toEqual(['ADA (2)']);
  });

  it('with the surname first are asked about', () => {
    const { names, notices } = readNames('Doe, Ada\nRoe, Ben');
    expect(names).toEqual(['Doe', 'Ada', 'Roe', 'Ben']);
    expect(notices).toEqual([{ kind: 'one comma in every line', example: 'Doe, Ada' }]);
  });

  it('that are too long or too many are cut, and it is said', () => {
    const long = readNames(`${'a'.repeat(79)}😀\n${'a'.repeat(79)}😀`);
    expect(long.names).toEqual(['a'.repeat(79), `${'a'.repeat(76)} (2)`]);
    const many = readNames(Array.from({ length: 42 }, (_, index) => `P${index}`).join());
    expect(many.names).toHaveLength(MOST_PEOPLE);
    expect(many.notices).toEqual([{ kind: 'too many', leftOut: ['P40', 'P41'] }]);
  });

  it('are always different, tidy and short enough, and read again are the same', () => {
    const pieces = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.constantFrom('Ada', 'Ada (2)', ',', '\n', 'é', 'e\u0301'),
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 60 }), (parts) => {
        const { names } = readNames(parts.join(''));
        expect(new Set(names).size).toBe(names.length);
        expect(names.every((name) => name.trim() !== '' && name.length <= MOST_NAME_CHARACTERS)).toBe(true);
        expect(readNames(names.join('\n')).names).toEqual(names);
      }),
      { numRuns: 500 },
    );
  });
});
