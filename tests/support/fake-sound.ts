import { StationSound } from '../../renderer/app/station-sound.ts';
import type { CountNews } from '../../renderer/sound/count-news.ts';
import type { CountPlayer, StartOrder } from '../../renderer/sound/count-player.ts';
import type { Words } from '../../renderer/sound/sound-shelf.ts';

export type PlayerOrder = ({ order: 'start' } & StartOrder) | { order: 'stop'; afterMs: number };

/** A player that plays nothing: what it was told, and a way to say what a real one would. */
export class FakePlayer implements CountPlayer {
  readonly orders: PlayerOrder[] = [];
  volume = 1;
  say: (news: CountNews) => void = () => undefined;

  readonly load = () => Promise.resolve();
  readonly start = (order: StartOrder) => void this.orders.push({ order: 'start', ...order });
  readonly stop = ({ afterMs }: { afterMs: number }) => void this.orders.push({ order: 'stop', afterMs });
  readonly setVolume = (volume: number) => {
    this.volume = volume;
  };
  /** The taps that were ordered; those taken back are marked. */
  readonly taps: { bpm: number; taps: number; isTakenBack: boolean }[] = [];
  readonly tapHeart = (order: { bpm: number; taps: number }) => {
    const one = { ...order, isTakenBack: false };
    this.taps.push(one);
    return () => {
      one.isTakenBack = true;
    };
  };
  /** The words that were said; those taken back are marked. */
  readonly said: { words: string; isTakenBack: boolean }[] = [];
  /** The language of each. */
  readonly saidIn: string[] = [];
  readonly speak = ({ language, texts }: Words) => {
    this.saidIn.push(language);
    const one = { words: texts.join(' '), isTakenBack: false };
    this.said.push(one);
    return () => {
      one.isTakenBack = true;
    };
  };
  readonly close = () => undefined;

  /** The count has begun, its first "one" at a time. */
  started(atMs: number, cycleMs = 2000): void {
    this.say({
      type: 'started',
      anchor: { atMs, beat: 'one', cycleMs },
      outputLatencyMs: 12,
      baseLatencyMs: 5,
      errorMs: 0.1,
    });
  }
}

/** A station's sound on a fake player, on a clock that the test moves. */
export function fakeSound(pageNow: () => number = () => 0): { sound: StationSound; player: FakePlayer } {
  const player = new FakePlayer();
  const sound = new StationSound({
    pageNow,
    makePlayer: ({ onNews }) => {
      player.say = onNews;
      return player;
    },
  });
  return { sound, player };
}
