import { expect, test } from 'vitest';
import { replay } from '../../../machines/replay.ts';
import { boutRowsOf, reportOf } from '../../../machines/scoring/report.ts';
import { learnerRoles } from '../../../machines/words/learner-page.ts';
import { JournalBuilder } from '../../support/journal-builder.ts';
import { SAMPLE_DRILLS, sampleDrill } from '../../support/sample-drills.ts';

function pageOf(journal: JournalBuilder, person: 'A' | 'B') {
  const fold = replay(journal.open, journal.lines);
  return learnerRoles(reportOf(fold), boutRowsOf(fold), person).map(({ role, lines }) => ({
    role,
    said: Object.fromEntries(lines.map(({ what, happened }) => [what, happened])),
  }));
}

/** Six cycles (five complete) whose breath comes so many ms after the third compression, at a beat of so many ms. */
function breathAfter(lagMs: number, beatMs = 500): JournalBuilder {
  const journal = new JournalBuilder().call(0, 'begin');
  for (let cycle = 0; cycle < 6; cycle += 1) {
    const at = 1000 + cycle * 2000;
    journal.cycle([at, at + beatMs, at + 2 * beatMs], at + 2 * beatMs + lagMs);
  }
  return journal.call(14_000, 'finish');
}

test('who compressed reads of compressions, who ventilated of breaths', () => {
  expect(pageOf(breathAfter(500), 'A')).toEqual([
    {
      role: 'compressor',
      said: {
        'Three compressions': '5 of 5 cycles',
        Pace: 'in time',
        'Evenly spaced': '5 of 5 cycles',
        'Room left for the breath': '5 of 5 cycles',
        Pauses: 'none',
      },
    },
  ]);
  expect(pageOf(breathAfter(500), 'B')).toEqual([
    {
      role: 'ventilator',
      said: {
        'A breath registered': 'after 5 of 5 threes',
        'Waited for the third to be let up': '5 of 5 cycles',
        'Where the breath came': 'on “breathe”',
        'Let go in time': '5 of 5 cycles',
      },
    },
  ]);
});

test.each([
  [401, 'on “breathe”'],
  [400, 'a little early'],
  [300, 'a little early'],
  [299, 'early'],
  [599, 'on “breathe”'],
  [640, 'a little late'],
  [701, 'late'],
])('a breath %i ms after the third is said to come %s', (lagMs, said) => {
  expect(pageOf(breathAfter(lagMs), 'B')[0]?.said['Where the breath came']).toBe(said);
});

test.each([
  [500, 'in time'],
  [486, 'in time'],
  [484, 'a little fast: about 93 a minute (124 inside the three)'],
  [450, 'fast: about 100 a minute (133 inside the three)'],
  [520, 'a little slow: about 87 a minute (115 inside the three)'],
  [600, 'slow: about 75 a minute (100 inside the three)'],
])('three compressions %i ms apart are said to be %s', (beatMs, said) => {
  expect(pageOf(breathAfter(400, beatMs), 'A')[0]?.said.Pace).toBe(said);
});

test('a breath that was not registered is not counted as one', () => {
  const journal = new JournalBuilder().call(0, 'begin');
  for (let cycle = 0; cycle < 21; cycle += 1) {
    const at = 1000 + cycle * 2000;
    journal.cycle([at, at + 500, at + 1000], cycle % 4 === 1 ? null : at + 1500);
  }
  expect(pageOf(journal.call(44_000, 'finish'), 'B')[0]?.said['A breath registered']).toBe(
    'after 15 of 20 threes',
  );
});

/** Cycles of 2 s with compressions on the beat, one by one as given; both read what they did, and what they read of the other is not theirs. */
function pagesOf(play: (journal: JournalBuilder, at: number, cycle: number) => void, cycles = 40) {
  const journal = new JournalBuilder().call(0, 'begin');
  for (let cycle = 0; cycle < cycles; cycle += 1) play(journal, 1000 + 2000 * cycle, cycle);
  const end = 1000 + 2000 * cycles;
  journal.cycle([end], null).call(end + 1000, 'finish');
  return { chest: pageOf(journal, 'A')[0]?.said, bag: pageOf(journal, 'B')[0]?.said };
}

test('a breath before the third is the one’s who gave it, and takes no room from the other', () => {
  const { chest, bag } = pagesOf((journal, at, cycle) => {
    if (cycle % 3 !== 0) journal.cycle([at, at + 500, at + 1000], at + 1500);
    else journal.cycle([at, at + 500], at + 800).cycle([at + 1000], null);
  });
  expect(bag?.['Waited for the third to be let up']).toBe('26 of 40 cycles');
  expect(chest).toMatchObject({
    'Three compressions': '40 of 40 cycles',
    'Room left for the breath': '40 of 40 cycles',
  });
});

test.each([
  [450, '30 of 30 cycles', '30 of 30 cycles'],
  [600, '29 of 29 cycles', 'not measured'],
])('a breath that is %i ms late leaves the other all the room they gave', (lateMs, room, even) => {
  const { chest, bag } = pagesOf(
    (journal, at) => journal.cycle([at, at + 500, at + 1000], at + 1500 + lateMs),
    30,
  );
  expect(chest).toMatchObject({
    'Three compressions': room,
    'Room left for the breath': room,
    'Evenly spaced': even,
  });
  expect(bag).toMatchObject({ 'Where the breath came': 'late', 'Waited for the third to be let up': room });
});

test('a breath that is late now and then is said so beside where most came', () => {
  const { bag } = pagesOf((journal, at, cycle) =>
    journal.cycle([at, at + 500, at + 1000], at + 1500 + (cycle % 8 === 1 ? 600 : 0)),
  );
  expect(bag?.['Where the breath came']).toBe('on “breathe”; late in 5');
});

test('four compressions are the compressor’s: the other waited', () => {
  const { chest, bag } = pagesOf((journal, at) =>
    journal.cycle([at, at + 500, at + 1000, at + 1500], at + 1550),
  );
  expect(bag?.['Waited for the third to be let up']).toBe('40 of 40 cycles');
  expect(chest).toMatchObject({
    'Three compressions': '0 of 40 cycles',
    'Room left for the breath': '0 of 40 cycles',
    'Evenly spaced': 'not measured',
  });
});

test('where every second breath was not registered, threes were given all the same', () => {
  const { chest } = pagesOf(
    (journal, at, cycle) => journal.cycle([at, at + 500, at + 1000], cycle % 2 === 0 ? null : at + 1500),
    30,
  );
  expect(chest).toMatchObject({ 'Three compressions': '15 of 15 cycles', 'Evenly spaced': 'not measured' });
});

test('of cycles with other numbers nothing is said of how even they were', () => {
  const { chest } = pagesOf((journal, at, cycle) =>
    journal.cycle([at, at + 500, at + 1000], cycle % 4 === 1 ? null : at + 1500),
  );
  expect(chest?.['Evenly spaced']).toBe('20 of 20 cycles of three and a breath');
});

test('a slowed stretch is in none of it', () => {
  const journal = new JournalBuilder({ cycleMs: 3000 }).call(0, 'begin').ideal(1000, 5, 3000);
  const slowedAlone = new JournalBuilder({ cycleMs: 3000 }).call(0, 'begin').ideal(1000, 5, 3000);
  journal.call(16_100, 'rest').call(16_200, { call: 'tempo', cycleMs: 2000 }).call(17_000, 'resume');
  journal.ideal(18_000, 5).call(30_000, 'finish');
  expect(pageOf(journal, 'A')[0]?.said).toMatchObject({ Pace: 'in time' });
  expect(pageOf(journal, 'B')[0]?.said).toMatchObject({ 'Where the breath came': 'on “breathe”' });
  expect(pageOf(slowedAlone.call(20_000, 'finish'), 'A')).toEqual([]);
});

test('nobody had a chest or a bag on a rhythm rig', () => {
  const titles = (rig: 'manikin' | 'rhythm') => {
    const journal = new JournalBuilder({ rig }).call(0, 'begin').ideal(1000, 5).call(12_000, 'finish');
    const fold = replay(journal.open, journal.lines);
    return (['A', 'B'] as const).flatMap((person) =>
      learnerRoles(reportOf(fold), boutRowsOf(fold), person).map(({ title }) => title),
    );
  };
  expect(titles('manikin')).toEqual(['On the chest', 'On the bag']);
  expect(titles('rhythm')).toEqual(['Compressing', 'Giving the breath']);
});

test('says when the count was on in all of it or in some', () => {
  const led = (guidance: 'led' | 'unled', change?: 'led' | 'unled') => {
    const journal = new JournalBuilder({ guidance }).call(0, 'begin').ideal(1000, 10);
    if (change !== undefined) journal.call(11_100, { call: 'guidance', guidance: change });
    const fold = replay(journal.open, journal.call(22_000, 'finish').lines);
    return learnerRoles(reportOf(fold), boutRowsOf(fold), 'A').map((role) => role.led);
  };
  expect(led('unled')).toEqual([null]);
  expect(led('led')).toEqual(['All of it was with the count on.']);
  expect(led('led', 'unled')).toEqual(['Some of it was with the count on.']);
});

test('after a swap both have both roles', () => {
  const journal = new JournalBuilder().call(0, 'begin').ideal(1000, 5).call(10_600, 'swap').ideal(16_000, 5);
  expect(pageOf(journal.call(27_000, 'finish'), 'A').map(({ role }) => role)).toEqual([
    'compressor',
    'ventilator',
  ]);
});

test('no page of a learner has a millisecond on it', () => {
  for (const name of SAMPLE_DRILLS) {
    const { open, lines } = sampleDrill(name);
    const fold = replay(
      open,
      lines.map((line, index) => ({ number: index + 2, line })),
    );
    const said = JSON.stringify(
      ['A', 'B'].map((p) => learnerRoles(reportOf(fold), boutRowsOf(fold), p as 'A')),
    );
    expect(said).toContain('cycles');
    expect(said).not.toMatch(/\bms\b|millisecond|missed/);
  }
});
