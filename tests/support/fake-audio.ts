import type { HowlerParts } from '../../renderer/sound/sound-loader.ts';

const LATENCY_S = 0.04;

export type FakeSource = { atS: number; isTakenBack: boolean };
/** A level that a gain was told to go to, from when on. */
export type FakeLevel = { level: number; atS: number };
/**
 * A sound device whose clock drifts against the page's, as Howler shows it: what the player uses of it and no more.
 * Page ms are set by the test; the context's clock follows them, unless it stands.
 */
export class FakeAudio {
  pageMs = 0;
  readonly sources: FakeSource[] = [];
  readonly levels: FakeLevel[] = [];
  contexts = 0;
  readonly ppm: number;
  private offsetS = 0;
  private stoodSinceMs: number | null = null;

  /** Positive: the page's clock gains on the audio clock. */
  constructor(ppm: number) {
    this.ppm = ppm;
  }

  /** The page time at which an audio time is heard, in truth. */
  heardMs(audioS: number): number {
    return (audioS - this.offsetS) * (1000 + this.ppm / 1000) + LATENCY_S * 1000;
  }

  get audioS(): number {
    const ms = this.stoodSinceMs ?? this.pageMs;
    return ms / (1000 + this.ppm / 1000) + this.offsetS;
  }

  stand(): void {
    this.stoodSinceMs = this.pageMs;
  }

  /** The device goes on from where it stood. */
  goOn(): void {
    const at = this.audioS;
    this.stoodSinceMs = null;
    this.offsetS += at - this.audioS;
  }

  /** An underrun, or another device: everything from now on is heard so much later. */
  jump(ms: number): void {
    this.offsetS -= ms / 1000;
  }

  howler(): HowlerParts {
    const openContext = () => {
      this.contexts += 1;
      return makeContext(this);
    };
    const Howler: HowlerParts['Howler'] = {
      ctx: null,
      masterGain: {} as GainNode,
      noAudio: false,
      usingWebAudio: true,
      autoSuspend: true,
      autoUnlock: true,
      volume: () => {
        Howler.ctx ??= openContext();
        return 1;
      },
    };
    class Howl {
      _sounds = [{ _node: { bufferSource: { buffer: null as AudioBuffer | null } } }];
      private readonly seconds: number;
      constructor(options: { src: string[]; onload: () => void }) {
        this.seconds = Number(options.src[0]);
        queueMicrotask(options.onload);
      }
      _refreshBuffer(): void {
        const [sound] = this._sounds;
        if (sound !== undefined) sound._node.bufferSource.buffer = { duration: this.seconds } as AudioBuffer;
      }
      unload(): void {}
    }
    return { Howler, Howl };
  }
}

function makeContext(audio: FakeAudio): AudioContext {
  const context = {
    state: 'running',
    sampleRate: 48_000,
    baseLatency: 0.01,
    outputLatency: LATENCY_S,
    get currentTime() {
      return audio.audioS;
    },
    getOutputTimestamp: () => ({
      contextTime: audio.audioS - LATENCY_S / (1 + audio.ppm / 1e6),
      performanceTime: audio.pageMs,
    }),
    resume: async () => undefined,
    close: async () => undefined,
    createGain: () => ({
      context,
      connect: () => undefined,
      gain: {
        cancelScheduledValues: () => undefined,
        setTargetAtTime: (level: number, atS: number) => audio.levels.push({ level, atS }),
      },
    }),
    createBufferSource: () => {
      const source: FakeSource = { atS: 0, isTakenBack: false };
      audio.sources.push(source);
      return {
        connect: () => undefined,
        disconnect: () => undefined,
        start: (atS: number) => {
          source.atS = atS;
        },
        stop: () => {
          source.isTakenBack = true;
        },
      };
    },
  };
  return context as unknown as AudioContext;
}
