import type { Press } from '../presses.ts';
import type { Us } from '../units.ts';
import { isTripletClose } from './handover-search.ts';
import { PressQueue } from './press-queue.ts';

/**
 * After a swap with `person` binding: the old compressor's presses count as strays, and are not scored,
 * until the first with no other of theirs within 0.4 T on either side. That one is their first breath.
 */
export class StrayFilter {
  private readonly held = new PressQueue();
  private pending: Press | null = null;
  private isOver = false;
  private previous: Press;
  private readonly isOfOld: (press: Press) => boolean;
  private readonly idealUs: () => Us;
  private readonly feed: (press: Press) => void;
  private readonly countStray: (press: Press) => void;

  constructor(start: {
    lastOfOldPerson: Press;
    isOfOld: (press: Press) => boolean;
    idealUs: () => Us;
    feed: (press: Press) => void;
    countStray: (press: Press) => void;
  }) {
    this.previous = start.lastOfOldPerson;
    this.isOfOld = start.isOfOld;
    this.idealUs = start.idealUs;
    this.feed = start.feed;
    this.countStray = start.countStray;
  }

  get heldFromUs(): Us {
    return this.held.fromUs;
  }

  press(press: Press): void {
    if (!this.isOver && this.isOfOld(press)) this.pressOfOld(press);
    else if (this.pending !== null) this.held.push(press);
    else this.feed(press);
  }

  /** A line has come at `nowUs`: a press that stayed alone for 0.4 T is a breath. */
  passTime(nowUs: Us): void {
    const { pending } = this;
    if (pending !== null && !isTripletClose(pending.onUs, nowUs - pending.lateUs, this.idealUs()))
      this.release();
  }

  /** Takes a press that waits for a neighbour as a breath, and feeds all that waited behind it. */
  release(): void {
    if (this.pending !== null) this.isOver = true;
    this.pending = null;
    for (const press of this.held.drain()) this.feed(press);
  }

  private pressOfOld(press: Press): void {
    const isNearPrevious = isTripletClose(this.previous.onUs, press.onUs, press.inForce.idealUs);
    this.previous = press;
    if (this.pending !== null) {
      if (!isNearPrevious) {
        this.release();
        this.feed(press);
        return;
      }
      const stray = this.pending;
      this.pending = null;
      this.held.shift();
      this.countStray(stray);
      for (const behind of this.held.drain()) this.feed(behind);
    }
    if (isNearPrevious) {
      this.countStray(press);
    } else {
      this.pending = press;
      this.held.push(press);
    }
  }
}
