/**
 * Records what passes through, on the audio thread: a busy page loses nothing. Silent stretches are only counted.
 * Samples are counted here: Chromium's `currentFrame` is now and then one quantum early for a moment.
 */
const CHUNK = 4096;

class Recorder extends AudioWorkletProcessor {
  constructor() {
    super();
    this.chunk = new Float32Array(CHUNK);
    this.filled = 0;
    this.count = 0;
    this.shownFrame = 0;
  }

  process([input]) {
    if (this.filled === 0) this.shownFrame = currentFrame;
    const samples = input[0];
    if (samples === undefined) this.chunk.fill(0, this.filled, this.filled + 128);
    else this.chunk.set(samples, this.filled);
    this.filled += 128;
    if (this.filled === CHUNK) this.send();
    return true;
  }

  send() {
    const isSilent = this.chunk.every((sample) => sample === 0);
    this.port.postMessage({
      count: this.count,
      shownFrame: this.shownFrame,
      length: CHUNK,
      samples: isSilent ? null : this.chunk.slice(),
    });
    this.count += CHUNK;
    this.filled = 0;
  }
}

registerProcessor('recorder', Recorder);
