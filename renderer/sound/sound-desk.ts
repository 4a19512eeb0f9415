import type { Ms } from '../../machines/units.ts';
import { AudioWatch } from './audio-watch.ts';
import type { CountNews, SoundTrouble } from './count-news.ts';
import { HeardClock } from './heard-clock.ts';
import { VoiceGain } from './said-words.ts';
import type { SoundCatalogue } from './sound-catalogue.ts';
import { type Audio, type HowlerParts, openAudio, reopenAudio } from './sound-loader.ts';
import { SoundShelf } from './sound-shelf.ts';

export type SoundDeskParts = {
  howler: HowlerParts;
  catalogue: SoundCatalogue;
  /** `performance.now`, the clock that event time stamps are on. */
  pageNow: () => Ms;
  onNews: (news: CountNews) => void;
  /** Where gestures are heard, for a browser that waits for one. */
  gestures: Pick<EventTarget, 'addEventListener' | 'removeEventListener'>;
  /** Undefined where the page may not know its devices. */
  devices?: Pick<MediaDevices, 'enumerateDevices' | 'addEventListener' | 'removeEventListener'> | undefined;
};
/** The context with its clock, and what a spoken count is heard through. */
export type DeskAudio = Audio & { clock: HeardClock; voice: VoiceGain };
/** silent: nothing is heard, and what was queued is void. jumped: the clocks have, and what was queued still plays. */
export type DeskState = 'running' | 'jumped' | 'silent';

/** A context that stands still gets a successor so often. */
const REBUILD_EVERY_MS: Ms = 5000;

/** The context, its sounds and its clock: opened, watched, said to be in trouble, and opened again. */
export class SoundDesk {
  readonly shelf: SoundShelf;
  private readonly parts: SoundDeskParts;
  private readonly watch = new AudioWatch();
  private readonly troubles = new Set<SoundTrouble>();
  private readonly cleanUps: (() => void)[] = [];
  private opened: DeskAudio | null = null;
  private rebuiltMs: Ms = 0;

  constructor(parts: SoundDeskParts) {
    this.parts = parts;
    this.shelf = new SoundShelf(parts.howler, parts.catalogue);
  }

  /** Resolves when every sound is loaded, or known not to be there. */
  async open(): Promise<void> {
    this.cleanUps.push(this.watch.resumeOnGesture(this.parts.gestures));
    if (this.parts.devices !== undefined) this.followDevices(this.parts.devices);
    await this.take(openAudio(this.parts.howler));
  }

  get audio(): DeskAudio | null {
    return this.opened;
  }

  /** To be asked at every wake. */
  look(): DeskState {
    if (this.opened === null) return 'silent';
    const nowMs = this.parts.pageNow();
    const state = this.watch.look(nowMs);
    if (state === 'starting') return 'silent';
    this.setTrouble('audio-blocked', state === 'blocked');
    this.setTrouble('device-lost', state === 'lost');
    if (state === 'running') return this.opened.clock.read(nowMs) === 'anew' ? 'jumped' : 'running';
    this.opened.clock.forget();
    if (state === 'lost') this.rebuildIfHopeless(this.opened.context, nowMs);
    return 'silent';
  }

  setTrouble(code: SoundTrouble, isSo: boolean): void {
    if (isSo === this.troubles.has(code)) return;
    if (isSo) this.troubles.add(code);
    else this.troubles.delete(code);
    this.parts.onNews({ type: isSo ? 'trouble' : 'trouble over', code });
  }

  close(): void {
    for (const cleanUp of this.cleanUps.splice(0)) cleanUp();
  }

  private rebuildIfHopeless(context: AudioContext, nowMs: Ms): void {
    const isHopeless = context.state === 'closed' || this.watch.stillMs(nowMs) > REBUILD_EVERY_MS;
    if (!isHopeless || nowMs - this.rebuiltMs < REBUILD_EVERY_MS) return;
    this.rebuiltMs = nowMs;
    void this.take(reopenAudio(this.parts.howler));
  }

  private async take(audio: Audio | null): Promise<void> {
    this.opened = audio && { ...audio, clock: new HeardClock(audio.context), voice: new VoiceGain(audio) };
    this.setTrouble('no-web-audio', audio === null);
    if (audio === null) return;
    this.watch.watch(audio.context, this.parts.pageNow());
    const failures = await this.shelf.fill(audio.context);
    this.setTrouble('sound-missing', failures.has('sound-missing'));
    this.setTrouble('sound-corrupt', failures.has('sound-corrupt'));
  }

  private followDevices(devices: NonNullable<SoundDeskParts['devices']>): void {
    const look = async () => {
      const all = await devices.enumerateDevices().catch(() => null);
      if (all !== null) this.setTrouble('no-device', !all.some(({ kind }) => kind === 'audiooutput'));
    };
    const changed = () => {
      this.parts.onNews({ type: 'device changed' });
      void look();
    };
    devices.addEventListener('devicechange', changed);
    this.cleanUps.push(() => devices.removeEventListener('devicechange', changed));
    void look();
  }
}
