import type { Fact } from '../facts.ts';
import type { Press } from '../presses.ts';
import { toMs, type Us } from '../units.ts';
import type { Arrangement } from './arrangement.ts';
import type { Bout } from './bout.ts';
import { CycleBuilder } from './cycle-builder.ts';
import { RowStore } from './row-store.ts';

/** A cycle's start, and what lay on either side of it: where a change without a gap can have been made. */
export type CycleStart = {
  press: Press;
  row: number;
  lastOld: Press;
  lastBreath: Press | null;
  firstBreath: Press | null;
};

/** Keeps the bouts: opens, closes and splits them, and scores the presses of the running one, which is the last. */
export class BoutBook {
  readonly rows = new RowStore();
  readonly bouts: Bout[] = [];
  /** Presses scored in bouts, in complete cycles or not. */
  readonly scored = { compressions: 0, breaths: 0 };
  private readonly cycles = new CycleBuilder(this.rows);
  private readonly say: (fact: Fact) => void;

  constructor(say: (fact: Fact) => void) {
    this.say = say;
  }

  get lastIndex(): number {
    return this.bouts.length - 1;
  }

  /** Has a breath followed the running bout's last compression? */
  get hasBreathSinceCompression(): boolean {
    return this.cycles.lastBreath !== null;
  }

  /** Opens a bout at its first compression, which is scored apart. */
  start(arrangement: Arrangement, press: Press, fromRow: number = this.cycles.completedCount): Bout {
    const bout: Bout = {
      ...arrangement,
      startUs: press.onUs,
      endUs: null,
      idealUs: press.inForce.idealUs,
      fromRow,
      toRow: Number.POSITIVE_INFINITY,
      firstBreath: null,
      lastBreath: null,
      lastCompression: press,
    };
    this.bouts.push(bout);
    this.say({ type: 'bout started', atMs: toMs(press.onUs), bout: this.lastIndex });
    return bout;
  }

  /** Closes the running bout; the cycle that is open is dropped. `endUs` null: it lasts to its last release. */
  close(endUs: Us | null, atUs: Us): void {
    const bout = this.bouts.at(-1);
    if (bout === undefined) return;
    bout.endUs = endUs;
    bout.toRow = this.cycles.completedCount;
    this.cycles.endBout();
    this.say({ type: 'bout ended', atMs: toMs(atUs), bout: this.lastIndex });
  }

  /** Splits the running bout at a cycle start that has been scored; the cycle before it is dropped. */
  splitAt(start: CycleStart, arrangement: Arrangement): void {
    const old = this.bouts.at(-1);
    if (old === undefined) return;
    const { lastCompression, lastBreath } = old;
    old.endUs = start.press.onUs;
    old.toRow = start.row - 1;
    old.lastCompression = start.lastOld;
    old.lastBreath = start.lastBreath;
    const bout = this.start(arrangement, start.press, start.row);
    bout.firstBreath = start.firstBreath;
    bout.lastBreath = start.firstBreath === null ? null : lastBreath;
    bout.lastCompression = lastCompression;
  }

  /** Scores a compression of the running bout; the cycle start it makes, if it makes one. */
  compression(press: Press): CycleStart | null {
    const bout = this.bouts.at(-1);
    if (bout === undefined) return null;
    this.scored.compressions += 1;
    const lastOld = bout.lastCompression;
    bout.lastCompression = press;
    if (!this.cycles.compression(press)) {
      if (this.cycles.openCompressions === 4) this.say({ type: 'breath missed', atMs: toMs(press.onUs) });
      return null;
    }
    this.say({ type: 'cycle started', atMs: toMs(press.onUs) });
    const row = this.cycles.completedCount;
    return { press, row, lastOld, lastBreath: bout.lastBreath, firstBreath: null };
  }

  /** Scores a breath of the running bout. */
  breath(press: Press): void {
    const bout = this.bouts.at(-1);
    if (bout === undefined) return;
    this.scored.breaths += 1;
    this.cycles.breath(press);
    bout.firstBreath ??= press;
    bout.lastBreath = press;
  }

  /** Moves complete cycles whose presses have settled into the rows. Presses from `unknownFromUs` on are still held back or to come. */
  settle(nowUs: Us, unknownFromUs: Us): void {
    const before = this.rows.size;
    const moved = this.cycles.settle(unknownFromUs);
    for (let row = before; row < before + moved; row += 1) {
      this.say({ type: 'cycle completed', atMs: toMs(Math.min(nowUs, Number.MAX_SAFE_INTEGER)), row });
    }
  }
}
