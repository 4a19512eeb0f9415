import { expect, it } from 'vitest';
import { notYetUnled, unledFactsOf, unledOf } from '../../../machines/class/unled.ts';
import type { OpenLine } from '../../../machines/journal.ts';
import { replay } from '../../../machines/replay.ts';
import { evidenceOf } from '../../../machines/standard/evidence.ts';
import { notYetUnledWords } from '../../../machines/words/class-words.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';

/** Ten whole cycles in which the first of two compresses. */
function factsOf(first: string, second: string, over: Partial<OpenLine> = {}) {
  const builder = new JournalBuilder({ people: { A: first, B: second }, ...over });
  builder.call(0, 'begin').ideal(1000, 11).call(24_000, 'finish');
  return unledFactsOf(evidenceOf(replay(builder.open, builder.lines)));
}

it('who has not yet compressed unled is told: led, weaned and the airway are not it', () => {
  const facts = [
    ...factsOf('Ada', 'Ben'),
    ...factsOf('Zoe\u0308 ', 'Ada'),
    ...factsOf('Cleo', 'Dan', { guidance: 'led' }),
    ...factsOf('Dan', 'Cleo', { guidance: 'weaned' }),
    ...factsOf('Ben', 'Cleo', { rig: 'rhythm' }),
    ...factsOf('Ada', 'Eve'),
  ];
  const people = ['Ada', 'Ben', 'Cleo', 'Dan', 'Zoë', 'Nobody yet'];
  expect(unledOf(people, facts).map(({ manikinMs }) => manikinMs)).toEqual([40_000, 0, 0, 0, 20_000, 0]);
  expect(notYetUnled(people, facts).map(notYetUnledWords)).toEqual([
    'Ben (0:20 on a rhythm rig)',
    'Cleo',
    'Dan',
    'Nobody yet',
  ]);
});
