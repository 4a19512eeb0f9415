import { beatsBetween } from '../../machines/count/beats.ts';
import { anchorOf, type CountOrder, countAtNextOne } from '../../machines/count/count-order.ts';
import type { CountGivenLine, CountStoppedLine } from '../../machines/journal.ts';
import type { Ms } from '../../machines/units.ts';
import type { CountNews, CountSound, CountStanding } from '../sound/count-news.ts';
import type { CountPlayer } from '../sound/count-player.ts';

type WithoutTime<L> = L extends unknown ? Omit<L, 'kind' | 'at'> : never;
/** A count line before it has its place. */
export type CountEntry = WithoutTime<CountGivenLine | CountStoppedLine>;

export type CountKeeperParts = {
  /** Null where the pair is to be silent: the count is only shown. */
  player: Pick<CountPlayer, 'start' | 'stop'> | null;
  soundAt: (cycleMs: Ms) => CountSound;
  /** Something is wrong with the sound now. */
  isInTrouble: () => boolean;
  /** Nobody can hear what the player plays. */
  isUnheard: () => boolean;
  write: (entry: CountEntry) => void;
  /** Drill ms. */
  now: () => Ms;
};

/**
 * Has the wanted count played, and writes down what was given: what was heard, by the player's word, else what was
 * shown. The journal never says that a beat was heard when it was not.
 */
export class CountKeeper {
  private readonly parts: CountKeeperParts;
  private wanted: CountOrder | null = null;
  private given: 'sound' | 'sight' | null = null;
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
    else if (before !== null && before.endMs === null) this.stop(order?.endMs ?? this.parts.now());
  }

  hear(news: CountNews): void {
    if (news.type === 'started' || news.type === 're-anchored') this.noteHeard(news);
    else if (news.type === 'stopped' && this.given === 'sound') {
      this.given = null;
      this.parts.write({
        what: 'stopped',
        lastMs: news.lastBeatMs === null ? null : roundMs(news.lastBeatMs),
      });
    }
    this.showIfUnheard();
  }

  private start(order: CountOrder): void {
    const { player, soundAt } = this.parts;
    player?.start({ fromMs: order.fromMs, cycleMs: order.cycleMs, sound: soundAt(order.cycleMs) });
    if (this.given === 'sight') this.given = null;
    this.showIfUnheard();
  }

  private stop(endMs: Ms): void {
    this.parts.player?.stop({ afterMs: endMs });
    if (this.given !== 'sight' || this.shown === null) return;
    this.given = null;
    this.parts.write({ what: 'stopped', lastMs: lastBeatBefore(this.shown, endMs) });
  }

  private noteHeard({ anchor, outputLatencyMs, errorMs }: CountStanding): void {
    if (this.parts.isUnheard()) return;
    this.given = 'sound';
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

  /** A count that is wanted and cannot be heard is shown, and said to be. */
  private showIfUnheard(): void {
    const { player, isInTrouble, now, write } = this.parts;
    const { wanted } = this;
    if (wanted === null || wanted.endMs !== null || this.given !== null) return;
    if (player !== null && !isInTrouble()) return;
    this.shown = wanted.fromMs >= now() ? wanted : countAtNextOne(wanted.fromMs, now(), wanted.cycleMs);
    this.given = 'sight';
    write({
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
