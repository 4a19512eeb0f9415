/** 16-bit mono WAV files: the one format that Chromium decodes without any shift of samples. */
export const SAMPLE_RATE = 48000;
const HEADER_BYTES = 44;

/** Bytes of a WAV file. Samples are -1 to 1; no dither, so that the same samples give the same bytes. */
export function wavOf(samples, rate = SAMPLE_RATE) {
  const bytes = Buffer.alloc(HEADER_BYTES + samples.length * 2);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(bytes.length - 8, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(rate * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(samples.length * 2, 40);
  for (const [index, sample] of samples.entries()) {
    bytes.writeInt16LE(Math.round(sample * 32767), HEADER_BYTES + index * 2);
  }
  return bytes;
}

/** Samples of raw signed 16-bit little-endian audio. */
export function samplesOfRaw(bytes) {
  return Float64Array.from({ length: bytes.length / 2 }, (_, index) => bytes.readInt16LE(index * 2) / 32768);
}
