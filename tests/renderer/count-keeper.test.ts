import { describe, expect, it } from 'vitest';
import type { CountOrder } from '../../machines/count/count-order.ts';
import { type CountEntry, CountKeeper } from '../../renderer/app/count-keeper.ts';
import { FakePlayer } from '../support/fake-sound.ts';

const order = (fromMs: number, cycleMs = 2000, endMs: number | null = null): CountOrder => ({
  fromMs,
  cycleMs,
  endMs,
});
const sight = (fromMs: number) => ({
  what: 'given',
  by: 'sight',
  fromMs,
  outputLatencyMs: null,
  errorMs: null,
});

function keeper(isSilent = false) {
  const player = new FakePlayer();
  const written: CountEntry[] = [];
  const noted: string[] = [];
  const clock = { nowMs: 0 };
  const count = new CountKeeper({
    player: isSilent ? null : player,
    soundAt: (cycleMs) => (cycleMs > 2000 ? { kind: 'voice', language: 'en' } : { kind: 'tick', pitch: 3 }),
    write: (entry) => written.push(entry),
    note: (what) => noted.push(what),
    now: () => clock.nowMs,
  });
  player.say = (news) => count.hear(news);
  return { count, player, written, noted, clock };
}

describe('a count that is heard', () => {
  it('is ordered once, and written down as the player says it, to three decimals', () => {
    const { count, player, written } = keeper();
    count.follow(order(3000));
    count.follow(order(3000));
    expect(player.orders).toEqual([
      { order: 'start', fromMs: 3000, cycleMs: 2000, sound: { kind: 'tick', pitch: 3 } },
    ]);
    player.started(3000.00049, 2000.01234);
    expect(written).toEqual([
      {
        what: 'given',
        by: 'sound',
        fromMs: 3000,
        beat: 'one',
        cycleMs: 2000.012,
        outputLatencyMs: 12,
        errorMs: 0.1,
      },
    ]);
  });

  it('ends where the chart says, with the last beat that the player says', () => {
    const { count, player, written } = keeper();
    count.follow(order(3000));
    player.started(3000);
    count.follow(order(3000, 2000, 6750));
    expect(player.orders.at(-1)).toEqual({ order: 'stop', afterMs: 6750 });
    player.say({ type: 'stopped', lastBeatMs: 6500.00012 });
    expect(written.at(-1)).toEqual({ what: 'stopped', lastMs: 6500 });
  });

  it('that is ending breaks off for a rest, and the last beat is told anew', () => {
    const { count, player, written } = keeper();
    count.follow(order(3000));
    player.started(3000);
    count.follow(order(3000, 2000, 6750));
    player.say({ type: 'stopped', lastBeatMs: 6500 });
    count.follow(order(3000, 2000, 5200));
    expect(player.orders.at(-1)).toEqual({ order: 'stop', afterMs: 5200 });
    player.say({ type: 'stopped', lastBeatMs: 5000 });
    expect(written.map((entry) => (entry.what === 'stopped' ? entry.lastMs : entry.fromMs))).toEqual([
      3000, 6500, 5000,
    ]);
  });

  it('is heard at another tempo in the voice, if that is slow', () => {
    const { count, player } = keeper();
    count.follow(order(3000));
    count.follow(order(9000, 3000));
    expect(player.orders.at(-1)).toMatchObject({ fromMs: 9000, sound: { kind: 'voice' } });
  });

  it('ends at once when its begin is taken back', () => {
    const { count, player, clock } = keeper();
    count.follow(order(3000));
    clock.nowMs = 3500;
    count.follow(null);
    expect(player.orders.at(-1)).toEqual({ order: 'stop', afterMs: 3500 });
  });

  it('is not said to be shown while it has not begun and is not due', () => {
    const { count, written, clock } = keeper();
    count.follow(order(3000));
    clock.nowMs = 2999;
    count.look();
    expect(written).toEqual([]);
  });
});

describe('a count that is not heard', () => {
  it('is said to be shown from its first “one” where the station is silent', () => {
    const { count, player, written } = keeper(true);
    count.follow(order(3000));
    expect(written).toEqual([expect.objectContaining(sight(3000))]);
    count.follow(order(3000, 2000, 6750));
    expect(written.at(-1)).toEqual({ what: 'stopped', lastMs: 6500 });
    expect(player.orders).toEqual([]);
  });

  it('has no last beat if it ended before its first', () => {
    const { count, written } = keeper(true);
    count.follow(order(3000));
    count.follow(order(3000, 2000, 2800));
    expect(written.at(-1)).toEqual({ what: 'stopped', lastMs: null });
  });

  it('is said to be shown from the next “one” once it is due and no sound has come', () => {
    const { count, written, clock } = keeper();
    count.follow(order(3000));
    clock.nowMs = 3100;
    count.look();
    count.look();
    expect(written).toEqual([expect.objectContaining(sight(5000))]);
  });

  it('is heard again when the sound is back, and shown meanwhile', () => {
    const { count, player, written, noted, clock } = keeper();
    count.follow(order(3000));
    player.started(3000);
    clock.nowMs = 10_200;
    player.say({ type: 'trouble', code: 'device-lost' });
    player.say({ type: 'stopped', lastBeatMs: 10_000 });
    count.look();
    clock.nowMs = 15_000;
    player.say({ type: 'trouble over', code: 'device-lost' });
    player.started(17_000);
    expect(noted).toEqual(['sound-lost', 'sound-back']);
    expect(
      written.map((entry) => (entry.what === 'given' ? [entry.by, entry.fromMs] : entry.lastMs)),
    ).toEqual([['sound', 3000], 10_000, ['sight', 11_000], ['sound', 17_000]]);
  });
});
