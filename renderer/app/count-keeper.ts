import { beatsBetween } from '../../machines/count/beats.ts';
import { anchorOf, type CountOrder, countAtNextOne } from '../../machines/count/count-order.ts';
import type { CountGivenLine, CountStoppedLine } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import type { CountNews, CountSound, CountStanding } from '../sound/count-news.ts';
import type { CountPlayer } from '../sound/count-player.ts';

type WithoutTime<L> = L extends unknown ? Omit<L, 'kind' | 'at'> : never;
/** A count line before it has its place. */
export type CountEntry = WithoutTime<CountGivenLine | CountStoppedLine>;

export type SoundEvent = 'sound-lost' | 'sound-back' | 'sound-device-changed' | 'sound-late';

export type CountKeeperParts = {
  /** Null where the pair is to be silent: the count is only shown. */
  player: Pick<CountPlayer, 'start' | 'stop'> | null;
  soundAt: (cycleMs: Ms) => CountSound;
  write: (entry: CountEntry) => void;
  /** Something happened to the sound device, for a `device` line. */
  note: (what: SoundEvent) => void;
  /** Drill ms. */
  now: () => Ms;
};

/**
 * Has the wanted count played, and writes down what was given: what sounded, by the player's word, else what was
 * shown. Whether a loudspeaker is switched on, no page can know.
 */
export class CountKeeper {
  private readonly parts: CountKeeperParts;
  private wanted: CountOrder | null = null;
  private given: 'sound' | 'sight' | null = null;
  private hasSounded = false;
  /** What is shown while nothing is heard. */
  private shown: CountOrder | null = null;

  constructor(parts: CountKeeperParts) {
    this.parts = parts;
  }

  /** The order as the chart has it now. */
  follow(order: CountOrder | null): void {
    const before = this.wanted;
    if (isSame(before, order)) return;
    this.wanted = order;
    if (order !== null && order.endMs === null) this.start(order);
    else if (before !== null) this.stop(order?.endMs ?? this.parts.now());
  }

  hear(news: CountNews): void {
    const what = deviceWords(news);
    if (what !== null) this.parts.note(what);
    if (news.type === 'started' || news.type === 're-anchored') this.noteHeard(news);
    else if (news.type === 'stopped' && this.hasSounded && this.given !== 'sight') {
      this.given = null;
      this.parts.write({
        what: 'stopped',
        lastMs: news.lastBeatMs === null ? null : roundMs(news.lastBeatMs),
      });
    }
  }

  /** Time has passed: a count that is due and not heard is shown, and said to be. */
  look(): void {
    const { wanted } = this;
    if (wanted === null || wanted.endMs !== null || this.given !== null) return;
    if (this.parts.now() >= wanted.fromMs) this.show(wanted);
  }

  private start(order: CountOrder): void {
    const { player, soundAt } = this.parts;
    player?.start({ fromMs: order.fromMs, cycleMs: order.cycleMs, sound: soundAt(order.cycleMs) });
    if (this.given === 'sight') this.given = null;
    this.shown = null;
    if (player === null) this.show(order);
  }

  private stop(endMs: Ms): void {
    this.parts.player?.stop({ afterMs: endMs });
    if (this.given === 'sound' || this.shown === null) return;
    this.given = null;
    this.parts.write({ what: 'stopped', lastMs: lastBeatBefore(this.shown, endMs) });
  }

  private noteHeard({ anchor, outputLatencyMs, errorMs }: CountStanding): void {
    this.given = 'sound';
    this.hasSounded = true;
    this.shown = null;
    this.parts.write({
      what: 'given',
      by: 'sound',
      fromMs: roundMs(anchor.atMs),
      beat: anchor.beat,
      cycleMs: roundMs(anchor.cycleMs),
      outputLatencyMs: outputLatencyMs === null ? null : roundMs(outputLatencyMs),
      errorMs: roundMs(errorMs),
    });
  }

  private show(order: CountOrder): void {
    const nowMs = this.parts.now();
    this.shown = order.fromMs >= nowMs ? order : countAtNextOne(order.fromMs, nowMs, order.cycleMs);
    this.given = 'sight';
    this.parts.write({
      what: 'given',
      by: 'sight',
      fromMs: roundMs(this.shown.fromMs),
      beat: 'one',
      cycleMs: roundMs(this.shown.cycleMs),
      outputLatencyMs: null,
      errorMs: null,
    });
  }
}

function deviceWords(news: CountNews): SoundEvent | null {
  if (news.type === 'device changed') return 'sound-device-changed';
  if (news.type === 'trouble' && news.code === 'page-late') return 'sound-late';
  if (news.type === 'trouble' && news.code === 'device-lost') return 'sound-lost';
  return news.type === 'trouble over' && news.code === 'device-lost' ? 'sound-back' : null;
}

function isSame(one: CountOrder | null, other: CountOrder | null): boolean {
  if (one === null || other === null) return one === other;
  return one.fromMs === other.fromMs && one.cycleMs === other.cycleMs && one.endMs === other.endMs;
}

function lastBeatBefore(order: CountOrder, endMs: Ms): Ms | null {
  // Two cycles back is enough to have the last.
  const fromMs = Math.max(order.fromMs, endMs - 2 * order.cycleMs);
  const last = endMs <= order.fromMs ? undefined : beatsBetween(anchorOf(order), fromMs, endMs).at(-1);
  return last === undefined ? null : roundMs(last.atMs);
}

/** The journal's three decimals; never below the drill's 0. */
function roundMs(ms: Ms): Ms {
  return Math.max(0, Math.round(ms * 1000) / 1000);
}
