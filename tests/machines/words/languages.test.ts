import { expect, test } from 'vitest';
import { LANGUAGES, LEARNERS_WORDS } from '../../../machines/words/languages.ts';

/** Every text of a catalogue, by its place in it: "hints.slower". */
function textsOf(value: unknown, place = ''): [string, string][] {
  if (typeof value === 'string') return [[place, value]];
  if (typeof value !== 'object' || value === null) throw new Error(`${place} is no text`);
  return Object.entries(value).flatMap(([key, part]) =>
    textsOf(part, place === '' ? key : `${place}.${key}`),
  );
}

const english = textsOf(LEARNERS_WORDS.english);

test.each(LANGUAGES)('the catalogue in %s has exactly the places of the English one', (language) => {
  const places = textsOf(LEARNERS_WORDS[language]).map(([place]) => place);
  expect(places.sort()).toEqual(english.map(([place]) => place).sort());
  expect(places.length).toBeGreaterThan(50);
});

test.each(LANGUAGES)(
  'no text in %s is empty or has spaces around it; only a caution may be left out',
  (language) => {
    const bad = textsOf(LEARNERS_WORDS[language]).filter(
      ([place, text]) => place !== 'note' && (text === '' || text !== text.trim()),
    );
    expect(bad).toEqual([]);
  },
);

test.each(LANGUAGES)(
  'a text in %s has a place for the name or call wherever the English one has',
  (language) => {
    const holesOf = (text: string) => text.match(/\{\w+\}/g) ?? [];
    const texts = new Map(textsOf(LEARNERS_WORDS[language]));
    const differing = english.filter(
      ([place, text]) => holesOf(text).join() !== holesOf(texts.get(place) ?? '').join(),
    );
    expect(differing).toEqual([]);
  },
);

test('a language that nobody has checked says so beside its choice', () => {
  expect(LEARNERS_WORDS.german.note).toContain('from memory: to be checked by a native instructor');
});
