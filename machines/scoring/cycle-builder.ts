import type { Press } from '../presses.ts';
import type { Us } from '../units.ts';
import type { CycleRow, RowClash, RowPress } from './cycle-row.ts';
import type { RowStore } from './row-store.ts';

/** Tool defaults of design section 5. */
const BREATH_TOO_SOON_US = 50_000;
const BREATH_FIRST_PART_US = 300_000;
const LET_GO_LATE_US = 100_000;

type Cycle = {
  start: Press;
  /** The next cycle's start, once it is there. */
  end: Press | null;
  compressions: Press[];
  breaths: Press[];
  /** The cycle after it in the same bout: its compressions can meet this one's last breath. */
  next: Cycle | null;
};

/**
 * Sorts a bout's presses into cycles. A cycle starts at the bout's first compression and at each first
 * compression after one or more breaths; it is complete at the next start in the same bout, and leaves
 * its row once every press that can matter to it has been let up.
 */
export class CycleBuilder {
  private current: Cycle | null = null;
  private readonly complete: Cycle[] = [];
  private readonly rows: RowStore;
  /** How many cycles have been completed: the index the open cycle's row would have. */
  completedCount = 0;

  constructor(rows: RowStore) {
    this.rows = rows;
  }

  /** Takes a compression of the running bout; true when it starts a cycle. */
  compression(press: Press): boolean {
    const open = this.current;
    if (open !== null && open.breaths.length === 0) {
      open.compressions.push(press);
      return false;
    }
    this.current = { start: press, end: null, compressions: [press], breaths: [], next: null };
    if (open !== null) {
      open.end = press;
      open.next = this.current;
      this.complete.push(open);
      this.completedCount += 1;
    }
    return true;
  }

  breath(press: Press): void {
    this.current?.breaths.push(press);
  }

  /** Compressions of the open cycle so far, for saying that a breath was not registered. */
  get openCompressions(): number {
    return this.current?.breaths.length === 0 ? this.current.compressions.length : 0;
  }

  get lastBreath(): Press | null {
    return this.current?.breaths.at(-1) ?? null;
  }

  /** The bout has ended: the cycle that is open is dropped. */
  endBout(): void {
    this.current = null;
  }

  /**
   * Moves complete cycles whose presses have settled into the rows, in order; returns how many.
   * Presses from `unknownFromUs` on have not reached this builder yet.
   */
  settle(unknownFromUs: Us): number {
    let moved = 0;
    for (
      let cycle = this.complete[0];
      cycle !== undefined && isSettled(cycle, unknownFromUs);
      cycle = this.complete[0]
    ) {
      this.complete.shift();
      this.rows.append(makeRow(cycle));
      moved += 1;
    }
    return moved;
  }
}

/** Presses of one switch follow each other, so a list is settled when its last press is. */
function isSettled(cycle: Cycle, unknownFromUs: Us): boolean {
  const breath = cycle.breaths.at(-1);
  if (breath === undefined || !breath.isSettled || cycle.compressions.at(-1)?.isSettled !== true)
    return false;
  if (unknownFromUs <= breath.offUs) return false;
  const after = cycle.next?.compressions.at(-1);
  if (after === undefined || after.isSettled) return true;
  return after.onUs >= breath.offUs && after.onUs > breath.onUs;
}

function makeRow(cycle: Cycle): CycleRow {
  const { start } = cycle;
  const end = cycle.end ?? start;
  return {
    startUs: start.onUs,
    lengthUs: end.onUs - start.onUs,
    idealUs: start.inForce.idealUs,
    guidance: start.inForce.guidance,
    guidanceChanged: end.inForce.guidanceCalls !== start.inForce.guidanceCalls,
    compressions: cycle.compressions.map((press) => rowPress(press, start.onUs)),
    breaths: cycle.breaths.map((press) => rowPress(press, start.onUs)),
    clash: clashOf(cycle),
  };
}

function rowPress(press: Press, startUs: Us): RowPress {
  return { onUs: press.onUs - startUs, offUs: press.offUs - startUs, isMeasured: press.isMeasured };
}

/**
 * Only the cycle's last compressions and the next cycle's first ones can meet a breath of the cycle: the last alone as
 * the lines came, those let up after the breath's onset once an offset is taken out.
 */
function clashOf(cycle: Cycle): RowClash {
  const clash: RowClash = { count: 0, byBreath: 0, byCompression: 0, letGoLate: 0, overlapUs: 0 };
  for (const breath of cycle.breaths) {
    let byBreath = false;
    let byCompression = false;
    let letGoLate = false;
    for (const press of nearBreath(cycle, breath)) {
      if (press.onUs >= breath.offUs && press.onUs > breath.onUs) break;
      if (press.onUs <= breath.onUs) {
        if (press.offUs - breath.onUs > BREATH_TOO_SOON_US) byBreath = true;
      } else if (press.onUs < Math.min(breath.offUs, breath.onUs + BREATH_FIRST_PART_US)) {
        byCompression = true;
      }
      if (press.onUs >= breath.onUs + BREATH_FIRST_PART_US && breath.offUs - press.onUs > LET_GO_LATE_US)
        letGoLate = true;
      clash.overlapUs += Math.max(0, Math.min(press.offUs, breath.offUs) - Math.max(press.onUs, breath.onUs));
    }
    if (byBreath) clash.byBreath += 1;
    if (byCompression) clash.byCompression += 1;
    if (byBreath || byCompression) clash.count += 1;
    if (letGoLate) clash.letGoLate += 1;
  }
  return clash;
}

function* nearBreath(cycle: Cycle, breath: Press): Generator<Press> {
  let from = cycle.compressions.length;
  while (from > 0 && (cycle.compressions[from - 1]?.offUs ?? 0) > breath.onUs) from -= 1;
  for (let index = from; index < cycle.compressions.length; index += 1) {
    const press = cycle.compressions[index];
    if (press !== undefined) yield press;
  }
  if (cycle.next !== null) yield* cycle.next.compressions;
}
