import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SAMPLE_RATE, samplesOfRaw } from './wav.mjs';

/** Below this share of the peak a sample is silence at a word's edge (-34 dB: keeps the "th", drops the hiss). */
const SILENCE_SHARE = 0.02;
const EDGE_MS = 5;

/** One word of espeak-ng's speech at 48 kHz, without the silence around it. */
export function speak({ voice, wordsPerMinute }, text) {
  const folder = mkdtempSync(join(tmpdir(), 'antiphon-sounds-'));
  try {
    const file = join(folder, 'word.wav');
    run('espeak-ng', ['-v', voice, '-s', String(wordsPerMinute), '-w', file, text]);
    // -D: no dither, so that the bytes are the same every time.
    const raw = ['-t', 'raw', '-r', String(SAMPLE_RATE), '-c', '1', '-b', '16', '-e', 'signed', '-'];
    return trimmed(samplesOfRaw(run('sox', ['-D', file, ...raw])));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The same sound at a lower rate: a whole fraction of ours, so that no sample of it falls between two of ours. */
export function resampled(samples, rate) {
  const step = SAMPLE_RATE / rate;
  const whole = new Float64Array(Math.ceil(samples.length / step) * step);
  whole.set(samples);
  const input = ['-t', 'f64', '-r', String(SAMPLE_RATE), '-c', '1', '-'];
  const output = ['-t', 'f64', '-r', String(rate), '-'];
  const bytes = run('sox', ['-D', ...input, ...output], Buffer.from(whole.buffer));
  const out = new Float64Array(whole.length / step);
  for (const index of out.keys()) {
    if (index * 8 < bytes.length) out[index] = bytes.readDoubleLE(index * 8);
  }
  return faded(out, 2, rate);
}

/** Cut off after so many samples, with a fade over the last 25 ms. */
export function endedBy(samples, length) {
  if (samples.length <= length) return faded(samples, EDGE_MS);
  return faded(samples.slice(0, length), 25);
}

function trimmed(samples) {
  const floor = SILENCE_SHARE * samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const edge = (EDGE_MS * SAMPLE_RATE) / 1000;
  const first = samples.findIndex((sample) => Math.abs(sample) > floor);
  const last = samples.findLastIndex((sample) => Math.abs(sample) > floor);
  const part = samples.slice(Math.max(0, first - edge), last + edge);
  for (let index = 0; index < edge; index += 1) part[index] *= index / edge;
  return part;
}

function faded(samples, ms, rate = SAMPLE_RATE) {
  const fade = (ms * rate) / 1000;
  return samples.map((sample, index) => sample * Math.min(1, (samples.length - 1 - index) / fade));
}

function run(program, values, input) {
  const { status, stdout, stderr, error } = spawnSync(program, values, { input, maxBuffer: 2 ** 26 });
  if (status === 0) return stdout;
  throw new Error(
    `${program} failed (on Debian: apt-get install espeak-ng sox): ${error?.message ?? stderr.toString()}`,
  );
}
