import { asGiven, type CountOrder, isGiven } from '../../machines/count/count-order.ts';
import type { DrillDriver } from '../../machines/drill-driver.ts';
import { type Ms, toMs } from '../../machines/units.ts';
import type { CountEntry, CountKeeper } from './count-keeper.ts';

export type CountFollowerParts = {
  driver: Pick<DrillDriver, 'snapshot' | 'beats'>;
  keeper: Pick<CountKeeper, 'follow' | 'look'>;
  write: (entry: CountEntry) => void;
  /** When the beats of the window before this one ended, as far as is known, in drill ms. */
  goneMs: () => Ms;
  /** This window opened the drill; one that came later takes the count over, if it gets it. */
  isOpener: boolean;
};

/**
 * Has the count given by exactly one window. A window that takes it over from one that is gone writes down where that one's
 * beats ended, as of when it heard, and goes on in the same rhythm from the next "one".
 */
export class CountFollower {
  private readonly parts: CountFollowerParts;
  private hadCount: boolean;
  /** The order that was taken over, and where its beats really were. */
  private taken: { order: CountOrder; given: CountOrder } | null = null;

  constructor(parts: CountFollowerParts) {
    this.parts = parts;
    this.hadCount = parts.isOpener;
  }

  /** The drill or the windows have changed. */
  follow(hasCount: boolean): void {
    const { keeper, driver } = this.parts;
    const { order } = driver.snapshot.context;
    if (hasCount && !this.hadCount && order !== null) this.takeOver(order);
    this.hadCount = hasCount;
    if (!hasCount || order === null) keeper.follow(null);
    else
      keeper.follow(this.taken !== null && isSameCount(this.taken.order, order) ? this.meant(order) : order);
  }

  look(): void {
    this.parts.keeper.look();
  }

  stop(): void {
    this.parts.keeper.follow(null);
  }

  private meant(order: CountOrder): CountOrder {
    return { ...order, fromMs: this.taken?.given.fromMs ?? order.fromMs };
  }

  private takeOver(order: CountOrder): void {
    const { driver, goneMs, write } = this.parts;
    const endedMs = goneMs();
    if (!isGiven(order, endedMs)) return;
    this.taken = { order, given: asGiven(order, driver.snapshot.context) };
    const { current } = driver.beats;
    if (current === null) return;
    const beatMs = toMs(current.cycleUs) / 4;
    const beats = Math.floor((endedMs - toMs(current.fromUs)) / beatMs);
    const lastMs = Math.round((toMs(current.fromUs) + beats * beatMs) * 1000) / 1000;
    write({ what: 'stopped', lastMs: beats < 0 ? null : lastMs });
  }
}

function isSameCount(one: CountOrder, other: CountOrder): boolean {
  return one.fromMs === other.fromMs && one.cycleMs === other.cycleMs;
}
