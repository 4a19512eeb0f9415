import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { personKey } from '../../../machines/ledger/person-name.ts';
import { isNameIn, lineWithoutPerson } from '../../../machines/ledger/typed-texts.ts';
import { openLineOf } from '../../support/drills.ts';

const openText = (A: string, B = 'Ben') => JSON.stringify({ ...openLineOf(), people: { A, B } });

describe('a name is found', () => {
  test.each([
    ['in other capitals', 'ada', openText('Ada')],
    ['with other spaces', 'Ada  Maria', openText(' Ada Maria')],
    ['composed, where it is decomposed', 'Zoe\u0301', openText('Zo\u00e9')],
    ['decomposed, where it is composed', 'Zo\u00e9', openText('Zoe\u0301')],
    ['escaped as JSON may', 'Ada', '{"kind":"note","at":1,"text":"\\u0041da was here"}'],
    ['after a newline of a note', 'Ada', '{"kind":"note","at":1,"text":"first\\nAda"}'],
    ['in a capital that has no small letter of its own', 'İlker', openText('İlker')],
    ['within a text without spaces', '王伟', '{"kind":"note","at":1,"text":"和王伟一起"}'],
    ['from right to left', 'נועה', openText('נועה')],
    ['of nothing but a picture', '👩‍⚕️', openText('👩‍⚕️')],
    ['with half a character', 'A\ud800x', openText('A\ud800x')],
    ['with the marks of a pattern', 'A.(*) [b]', openText('A.(*) [b]')],
    ['in a line that is torn', 'Ada', '{"kind":"open","people":{"A":"Ada","B'],
    ['in a line of a kind that is not known', 'Ada', '{"kind":"sermon","by":"Ada"}'],
    ['in a field that is not known', 'Ada', '{"kind":"close","at":1,"Ada":1}'],
    ['at the airway of a class', 'Ada', '{"kind":"antiphon-class","version":2,"groups":[{"airway":"Ada"}]}'],
    ['in settings', 'Ada', '{"version":2,"settings":{"people":{"A":"Ada"}}}'],
  ])('%s', (_how, name, text) => {
    expect(isNameIn(text, name)).toBe(true);
  });

  test.each([
    ['in a longer word', 'Ann', '{"kind":"note","at":1,"text":"the channel"}'],
    ['in another name', 'Ada', openText('Adam')],
    ['in a word of the format', 'Led', '{"kind":"call","at":1,"call":"guidance","guidance":"led"}'],
    ['in the way to the airway', 'Mask', openText('Ada')],
    ['in the letter of a person', 'A', openText('Ada')],
    ['when it is nothing', ' ', openText('Ada')],
  ])('but not %s', (_how, name, text) => {
    expect(isNameIn(text, name)).toBe(false);
  });
});

describe('a line without a person', () => {
  test('keeps every other byte, and the partner', () => {
    expect(lineWithoutPerson(openText('Ada'), 'ADA', true)).toBe(openText('someone'));
    const edge = '{"kind":"edge", "at":1.50,"switch":"A","down":true}';
    expect(lineWithoutPerson(edge, 'A', true)).toBe(edge);
  });

  test('has no notes and no torn text of their drill, and keeps those of others', () => {
    const note = '{"kind":"note","at":1,"text":"she tired"}';
    expect(lineWithoutPerson(note, 'Ada', true)).toBe('{"kind":"note","at":1,"text":""}');
    expect(lineWithoutPerson(note, 'Ada', false)).toBe(note);
    const torn = '{"kind":"recovered","at":1,"bytes":9,"text":"{\\"kind\\":\\"no"}';
    expect(lineWithoutPerson(torn, 'Ada', true)).toBe('{"kind":"recovered","at":1,"bytes":9,"text":""}');
    expect(lineWithoutPerson('{"kind":"note","at":1,"text":"as Ada did"}', 'Ada', false)).toBe(
      '{"kind":"note","at":1,"text":"as … did"}',
    );
  });

  test('leaves the whole names of others as they are, also where they begin alike', () => {
    const others = openText('Ada Lovelace', 'Ada (2)');
    expect(lineWithoutPerson(others, 'Ada', false)).toBe(others);
    expect(lineWithoutPerson(openText('Ada', 'Ada Lovelace'), 'ada', true)).toBe(
      openText('someone', 'Ada Lovelace'),
    );
  });

  test('no name that may be typed is found after it was taken out', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 12 }),
        fc.string({ unit: 'grapheme' }),
        (name, other) => {
          fc.pre(personKey(name) !== null && personKey(name) !== personKey('…'));
          const lines = [
            openText(name, '—'),
            JSON.stringify({ kind: 'note', at: 1, text: `${other} ${name}` }),
            JSON.stringify({ kind: 'sermon', by: name, [name]: [other] }),
          ];
          expect(isNameIn(lines.join('\n'), name)).toBe(true);
          const after = lines.map((line) => lineWithoutPerson(line, name, true));
          expect(isNameIn(after.join('\n'), name)).toBe(false);
        },
      ),
      { numRuns: 2000, seed: 20260302 },
    );
  });
});
