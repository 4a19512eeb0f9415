// Makes every sound of the station: node assets/sounds/make-sounds.mjs (needs espeak-ng and sox).
// Run twice, it writes the same bytes. What it makes and why is told in README.md beside it.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { levelled, loudness, peak } from './making/levels.mjs';
import { perceptualOnset } from './making/onset.mjs';
import { endedBy, resampled, speak } from './making/speech.mjs';
import * as tones from './making/tones.mjs';
import { SAMPLE_RATE, wavOf } from './making/wav.mjs';

/** dB, K weighted, loudest 100 ms. The tick is soft on purpose: the compressor's own voice is the count. */
const VOICE_DB = -20;
const TICK_DB = -26;
const HEART_DB = -24;
/** Words overlap a little, so each keeps 3 dB of room. */
const PEAK_DB = -3;
/** Words may overlap by so much; beyond it a word is faded out (our choice). */
const OVERLAP_MS = 30;
/** Words of a call stand on no beat, so they need not be at the count's rate: a third of its bytes (our choice). */
const CALLS_RATE = 16_000;
/** The tempo that the words must fit: two thirds of it is slower, so it fits too. */
const BEAT_MS = 500;

const folder = process.argv[2] ?? import.meta.dirname;
const made = [];

writeJson('sounds.json', {
  sampleRate: SAMPLE_RATE,
  ticks: tones.TICK_HERTZ.map((hertz, index) => ({
    pitch: index + 1,
    hertz,
    tick: writeSound(`ticks/tick-${index + 1}.wav`, tones.tick(hertz), {
      db: TICK_DB,
      onset: tones.toneOnset(tones.TICK_ATTACK_MS),
    }),
    breath: writeSound(`ticks/breath-${index + 1}.wav`, tones.breathTick(hertz), {
      db: TICK_DB,
      onset: tones.toneOnset(tones.BREATH_ATTACK_MS),
    }),
  })),
  heartTap: writeSound('heart-tap.wav', tones.heartTap(), {
    db: HEART_DB,
    onset: tones.toneOnset(tones.HEART_ATTACK_MS),
  }),
});
for (const name of languagesIn('counts')) makeCount(name);
for (const name of languagesIn('calls')) makeCalls(name);
for (const { file, samples, rate } of made) {
  const ms = ((samples.length * 1000) / rate).toFixed(0);
  console.log(
    `| ${file} | ${ms} | ${levelOf(samples, rate)} | ${rms(samples).toFixed(1)} | ${peak(samples).toFixed(1)} |`,
  );
}
console.log(`${made.reduce((sum, { samples }) => sum + 44 + samples.length * 2, 0)} bytes in all`);

/**
 * A language's words: read from its file, which then also says where each word's sound is and where it falls.
 * `sound` names the file where the text is no plain name.
 */
function makeCount(name) {
  const count = JSON.parse(readFileSync(join(import.meta.dirname, 'counts', name), 'utf8'));
  const spoken = new Map();
  for (const { text, sound = text } of count.words) {
    if (spoken.has(text)) continue;
    const samples = speak(count.speech, text);
    spoken.set(text, { samples, sound, onset: perceptualOnset(samples) });
  }
  const words = new Map();
  for (const [text, { samples, sound, onset }] of spoken) {
    const room = roomAfter(count.words, text, (next) => spoken.get(next).onset);
    const file = `counts/${name.replace('.json', '')}/${sound}.wav`;
    words.set(text, writeSound(file, endedBy(samples, onset + room), { db: VOICE_DB, onset }));
  }
  writeJson(`counts/${name}`, {
    ...count,
    words: count.words.map((word) => ({ ...word, ...words.get(word.text) })),
  });
}

/** What is about to be called, in a language's words: each alone, so nothing of it need be cut. */
function makeCalls(name) {
  const calls = JSON.parse(readFileSync(join(import.meta.dirname, 'calls', name), 'utf8'));
  const words = calls.words.map((word) => {
    const samples = speak(calls.speech, word.text);
    const file = `calls/${name.replace('.json', '')}/${word.sound ?? word.text}.wav`;
    // It stands on no beat: it is said as soon as it can be.
    return {
      ...word,
      ...writeSound(file, endedBy(samples, samples.length), { db: VOICE_DB, onset: 0, rate: CALLS_RATE }),
    };
  });
  writeJson(`calls/${name}`, { ...calls, words });
}

function languagesIn(kind) {
  return readdirSync(join(import.meta.dirname, kind)).filter((file) => file.endsWith('.json'));
}

/** Samples from a word's onset until it must have ended, wherever it stands in the count. */
function roomAfter(words, text, onsetOf) {
  const rooms = words.map((word, index) => {
    const next = words[(index + 1) % words.length];
    const beats = next.beat - word.beat + (index + 1 === words.length ? 4 : 0);
    return beats * msToSamples(BEAT_MS) - onsetOf(next.text) + msToSamples(OVERLAP_MS);
  });
  return Math.min(...rooms.filter((_, index) => words[index].text === text));
}

/** `onset` and the length it answers are in samples at 48 kHz, whatever the file's own rate. */
function writeSound(file, samples, { db, onset, rate = SAMPLE_RATE }) {
  const full = levelled(samples, db, PEAK_DB);
  const out = rate === SAMPLE_RATE ? full : resampled(full, rate);
  mkdirSync(join(folder, file, '..'), { recursive: true });
  writeFileSync(join(folder, file), wavOf(out, rate));
  made.push({ file, samples: out, rate });
  return { file, onset, samples: (out.length * SAMPLE_RATE) / rate };
}

/** The weighting's filters are for 48 kHz; a sound at another rate was levelled before it was brought to that. */
function levelOf(samples, rate) {
  return (rate === SAMPLE_RATE ? loudness(samples) : VOICE_DB).toFixed(1);
}

function writeJson(file, value) {
  mkdirSync(join(folder, file, '..'), { recursive: true });
  writeFileSync(join(folder, file), `${JSON.stringify(value, null, 2)}\n`);
}

function msToSamples(ms) {
  return Math.round((ms * SAMPLE_RATE) / 1000);
}

function rms(samples) {
  return 10 * Math.log10(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);
}
