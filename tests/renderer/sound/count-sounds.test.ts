import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { PlanCall } from '../../../machines/plans/plan-calls.ts';
import { AIRWAYS, STANCES, TECHNIQUES } from '../../../machines/vocabulary.ts';
import { LANGUAGES, LEARNERS_WORDS } from '../../../machines/words/languages.ts';
import { soonSpoken, soonWords } from '../../../machines/words/plan-words.ts';
import { readCatalogue } from '../../../renderer/sound/sound-catalogue.ts';
import { allSounds, readSounds, SOUNDS_FOLDER } from '../../support/count-sounds.ts';

const sounds = readSounds();
const files = allSounds(sounds).filter(
  ({ file }, index, all) => all.findIndex((one) => one.file === file) === index,
);
const SECOND = 48_000;

function samplesOf(bytes: Buffer): number[] {
  return Array.from(
    { length: (bytes.length - 44) / 2 },
    (_, index) => bytes.readInt16LE(44 + index * 2) / 32_768,
  );
}

/** The loudest 10 ms of a part, RMS. */
function loudest(samples: readonly number[]): number {
  let most = 0;
  for (let from = 0; from + 480 <= samples.length; from += 48) {
    const power = samples.slice(from, from + 480).reduce((sum, sample) => sum + sample ** 2, 0) / 480;
    most = Math.max(most, Math.sqrt(power));
  }
  return most;
}

it('there are four pitches with two ticks each, a heart tap, and in two languages five words and 15 words of calls, under 1 MB in all', () => {
  expect(files).toHaveLength(49);
  const bytes = files.map(({ file }) => readFileSync(new URL(file, SOUNDS_FOLDER)).length);
  expect(bytes.reduce((sum, one) => sum + one, 0)).toBeLessThan(1_000_000);
  const made = readdirSync(SOUNDS_FOLDER, { recursive: true, encoding: 'utf8' });
  expect(made.filter((name) => name.endsWith('.wav'))).toHaveLength(files.length);
});

it('the count in English is "one and two and three and breathe and", two words a beat', () => {
  expect(sounds.english.words.map(({ text }) => text).join(' ')).toBe(
    'one and two and three and breathe and',
  );
  expect(sounds.english.words.map(({ beat }) => beat)).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5]);
});

it.each(LANGUAGES)('whatever a plan can warn of is heard in the words that are shown, in %s', (language) => {
  const words = LEARNERS_WORDS[language];
  const heard = language === 'english' ? sounds.calls : sounds.germanCalls;
  const calls: PlanCall[] = [
    { call: 'swap' },
    ...TECHNIQUES.map((technique) => ({ call: 'technique', technique }) as const),
    ...STANCES.map((stance) => ({ call: 'stance', stance }) as const),
    ...AIRWAYS.map((airway) => ({ call: 'airway', airway }) as const),
    { call: 'guidance', guidance: 'led' },
    { call: 'tempo', cycleMs: 3000 },
    ...(['begin', 'rest', 'resume', 'check', 'checked', 'finish'] as const).map((call) => ({ call })),
  ];
  const spoken = soonSpoken(calls, words);
  expect([...new Set(spoken)].sort()).toEqual(heard.words.map(({ text }) => text).sort());
  expect(heard.language).toBe(words.code);
  expect(soonWords(calls, words).toLowerCase().replaceAll(/[,:]/g, '')).toBe(spoken.join(' ').toLowerCase());
});

it.each(LANGUAGES)('the count in %s is heard in the words that are shown, one a beat', (language) => {
  const heard = language === 'english' ? sounds.english : sounds.german;
  const onBeats = heard.words.filter(({ beat }) => Number.isInteger(beat));
  expect([heard.language, onBeats.map(({ text }) => text)]).toEqual([
    LEARNERS_WORDS[language].code,
    [...LEARNERS_WORDS[language].count],
  ]);
});

describe.each(files)('$file', ({ file, onset, samples: length }) => {
  const bytes = readFileSync(new URL(file, SOUNDS_FOLDER));
  const samples = samplesOf(bytes);
  // Words of a call stand on no beat.
  const rate = file.startsWith('calls/') ? 16_000 : SECOND;

  it('is 16-bit mono at 48 kHz or, for words of a call, 16, as long as its data say, and no louder than -3 dB', () => {
    expect({
      format: bytes.toString('latin1', 0, 4) + bytes.toString('latin1', 8, 12),
      coding: bytes.readUInt16LE(20),
      channels: bytes.readUInt16LE(22),
      rate: bytes.readUInt32LE(24),
      bits: bytes.readUInt16LE(34),
      length: (bytes.readUInt32LE(40) / 2) * (SECOND / rate),
    }).toEqual({ format: 'RIFFWAVE', coding: 1, channels: 1, rate, bits: 16, length });
    expect(samples).toHaveLength((length * rate) / SECOND);
    const peakDb = 20 * Math.log10(Math.max(...samples.map(Math.abs)));
    expect(peakDb).toBeLessThanOrEqual(-3);
    expect(peakDb).toBeGreaterThan(-20);
  });

  it('ends in silence, so that nothing clicks, and rises to its loudest only from its onset on', () => {
    expect(Math.abs(samples.at(-1) ?? 1)).toBeLessThan(0.001);
    if (file.startsWith('calls/')) return expect([onset, length < SECOND]).toEqual([0, true]);
    expect(onset).toBeGreaterThan(0);
    // "zwei" has three consonants before its vowel.
    expect(onset).toBeLessThan(SECOND / 6);
    expect(length - onset).toBeLessThan(SECOND / 3);
    expect(loudest(samples.slice(0, Math.max(onset, 480)))).toBeLessThanOrEqual(
      loudest(samples.slice(onset)),
    );
  });
});

it('the window finds every file by its data', () => {
  const catalogue = readCatalogue();
  expect(catalogue.ticks.map(({ pitch }) => pitch)).toEqual([1, 2, 3, 4]);
  expect(catalogue.counts.map(({ language, words }) => [language, words.length])).toEqual([
    ['en', 8],
    ['de', 8],
  ]);
  const all = [
    ...catalogue.ticks.flatMap(({ tick, breath }) => [tick, breath]),
    ...catalogue.counts.flatMap(({ words }) => words),
    ...catalogue.calls.flatMap(({ words }) => words),
    catalogue.heartTap,
  ];
  expect(all.length).toBe(8 + 2 * 8 + 2 * 15 + 1);
  expect(all.every(({ url }) => url.startsWith('/'))).toBe(true);
});

const hasVoice = ['espeak-ng', 'sox'].every((program) => spawnSync(program, ['--version']).status === 0);

it.skipIf(!hasVoice)(
  'the script makes the same bytes again (where espeak-ng and sox are installed)',
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'antiphon-sounds-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const script = new URL('make-sounds.mjs', SOUNDS_FOLDER).pathname;
    const { status, stderr } = spawnSync('node', [script, folder], { encoding: 'utf8' });
    expect([status, stderr]).toEqual([0, '']);
    for (const name of [
      'sounds.json',
      'counts/english.json',
      'calls/english.json',
      'counts/german.json',
      'calls/german.json',
      ...files.map(({ file }) => file),
    ]) {
      expect(readFileSync(join(folder, name)).equals(readFileSync(new URL(name, SOUNDS_FOLDER)))).toBe(true);
    }
  },
);
