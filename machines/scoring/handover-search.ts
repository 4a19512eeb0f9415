import type { Press } from '../presses.ts';
import type { Us } from '../units.ts';
import { PressQueue } from './press-queue.ts';

/**
 * Looks for the moment a called change was made. A search takes presses in order of lines, feeds those
 * it can place to the old bout, holds back those it cannot place yet, and says once what it found.
 * `after` are presses after the first new that it still held, `lastOfOldPerson` the old compressor's last press
 * before the first new. Every limit is a tool default of design section 5.
 */
export type Found =
  | { outcome: 'taken up'; lastOld: Press; firstNew: Press; after: readonly Press[]; lastOfOldPerson: Press }
  | { outcome: 'seamless or never' }
  | { outcome: 'never taken up' };

export interface HandoverSearch {
  /** Takes a press; what it found, if that settles it. Everything held is then fed or in `after`. */
  press(press: Press): Found | null;
  /** A line has come at `nowUs`; called before the line's own effect. */
  passTime(nowUs: Us): Found | null;
  /** `taken` is called: the new hands are on. */
  taken(atUs: Us): Found | null;
  /** Feeds everything held to the old bout, in order. */
  release(): void;
  /** Onset of the first press held back, Infinity when none is. */
  readonly heldFromUs: Us;
}

/** A gap longer than 0.65 T between compressions is a change of hands. */
const GAP_HUNDREDTHS = 65;
/** After 10 s without such a gap the change was made without one, or not at all. */
const GAP_WINDOW_US = 10_000_000;
/** The instructor says `taken` up to 0.3 s after the compression they saw. */
const TAKEN_SLACK_US = 300_000;
/** Presses of one person at most 0.4 T apart are compressions. */
const TRIPLET_TENTHS = 4;
/** The breath still owed comes at most 0.5 T after the last old compression. */
const OWED_TENTHS = 5;
/** How long a person is waited for. */
const PERSON_WINDOW_US = 30_000_000;

/** Are two onsets at most so many tenths of T apart? */
export function isWithinTenths(earlierUs: Us, laterUs: Us, idealUs: Us, tenths: number): boolean {
  return 10 * (laterUs - earlierUs) <= tenths * idealUs;
}

/** Are two presses of one person so close that both are compressions? */
export function isTripletClose(earlierUs: Us, laterUs: Us, idealUs: Us): boolean {
  return isWithinTenths(earlierUs, laterUs, idealUs, TRIPLET_TENTHS);
}

export type SearchStart = {
  /** The last call, t. */
  calledUs: Us;
  /** The bout's last compression before it. */
  lastCompression: Press;
  isCompression: (press: Press) => boolean;
  /** T now. */
  idealUs: () => Us;
  /** Scores a press in the old bout. */
  feed: (press: Press) => void;
};

/** The compressor's switch stays the same: place binding, or no change of roles. */
export class SameSwitchSearch implements HandoverSearch {
  private readonly start: SearchStart;
  private readonly held = new PressQueue();
  private lastCompression: Press;
  private lastFedCompression: Press;
  private isTaken = false;

  constructor(start: SearchStart) {
    this.start = start;
    this.lastCompression = start.lastCompression;
    this.lastFedCompression = start.lastCompression;
  }

  get heldFromUs(): Us {
    return this.held.fromUs;
  }

  press(press: Press): Found | null {
    if (!this.start.isCompression(press)) {
      this.held.push(press);
      return null;
    }
    const before = this.lastCompression;
    this.lastCompression = press;
    const isInWindow = before.onUs < this.start.calledUs + GAP_WINDOW_US;
    const isGap = 100 * (press.onUs - before.onUs) > GAP_HUNDREDTHS * press.inForce.idealUs;
    if (this.isTaken || (isInWindow && isGap)) {
      this.release();
      return { outcome: 'taken up', lastOld: before, firstNew: press, after: [], lastOfOldPerson: before };
    }
    this.held.push(press);
    if (isInWindow) return null;
    this.release();
    return { outcome: 'seamless or never' };
  }

  passTime(nowUs: Us): null {
    while (this.held.fromUs < nowUs - TAKEN_SLACK_US) this.feedFirst();
    return null;
  }

  taken(atUs: Us): Found | null {
    const presses = this.held.drain();
    const index = presses.findIndex(
      (press) => this.start.isCompression(press) && press.onUs >= atUs - TAKEN_SLACK_US,
    );
    const firstNew = presses[index];
    for (const press of firstNew === undefined ? presses : presses.slice(0, index)) this.feed(press);
    if (firstNew === undefined) {
      this.isTaken = true;
      return null;
    }
    const lastOld = this.lastFedCompression;
    return {
      outcome: 'taken up',
      lastOld,
      firstNew,
      after: presses.slice(index + 1),
      lastOfOldPerson: lastOld,
    };
  }

  release(): void {
    for (const press of this.held.drain()) this.feed(press);
  }

  private feedFirst(): void {
    const press = this.held.shift();
    if (press !== undefined) this.feed(press);
  }

  private feed(press: Press): void {
    if (this.start.isCompression(press)) this.lastFedCompression = press;
    this.start.feed(press);
  }
}

/** Each keeps a switch and the roles change: the other person's presses become compressions. */
export class ChangedRolesSearch implements HandoverSearch {
  private readonly start: SearchStart;
  private readonly held = new PressQueue();
  private lastOld: Press;
  private previousOfOld: Press;
  private hasOtherPressed: boolean;
  /** How late the other person's switch is: they can still turn out to have come in time for so long. */
  private readonly newLateUs: Us;
  private candidate: { press: Press; lastOld: Press; lastOfOldPerson: Press } | null = null;

  constructor(start: SearchStart & { hasOtherPressed: boolean; newLateUs: Us }) {
    this.start = start;
    this.newLateUs = start.newLateUs;
    this.lastOld = start.lastCompression;
    this.previousOfOld = start.lastCompression;
    this.hasOtherPressed = start.hasOtherPressed;
  }

  get heldFromUs(): Us {
    return this.held.fromUs;
  }

  press(press: Press): Found | null {
    if (this.start.isCompression(press)) {
      this.pressOfOld(press);
      return null;
    }
    return this.pressOfNew(press);
  }

  passTime(nowUs: Us): Found | null {
    const newNowUs = nowUs - this.newLateUs;
    if (this.candidate !== null && !isTripletClose(this.candidate.press.onUs, newNowUs, this.start.idealUs()))
      this.release();
    if (this.candidate !== null || newNowUs < this.start.calledUs + PERSON_WINDOW_US) return null;
    return { outcome: 'never taken up' };
  }

  taken(): null {
    return null;
  }

  release(): void {
    this.candidate = null;
    for (const press of this.held.drain()) this.start.feed(press);
  }

  private pressOfOld(press: Press): void {
    if (isTripletClose(this.previousOfOld.onUs, press.onUs, press.inForce.idealUs)) {
      this.lastOld = press;
      this.hasOtherPressed = false;
    }
    this.previousOfOld = press;
    if (this.candidate === null) this.start.feed(press);
    else this.held.push(press);
  }

  private pressOfNew(press: Press): Found | null {
    const { idealUs } = press.inForce;
    const { candidate } = this;
    if (candidate !== null && isTripletClose(candidate.press.onUs, press.onUs, idealUs)) {
      const after = [...this.held.drain().slice(1), press];
      const { lastOld, lastOfOldPerson } = candidate;
      return { outcome: 'taken up', lastOld, firstNew: candidate.press, after, lastOfOldPerson };
    }
    this.release();
    const isOwed =
      !this.hasOtherPressed && isWithinTenths(this.lastOld.onUs, press.onUs, idealUs, OWED_TENTHS);
    this.hasOtherPressed = true;
    const { calledUs } = this.start;
    if (!isOwed && press.onUs > calledUs && press.onUs < calledUs + PERSON_WINDOW_US) {
      this.candidate = { press, lastOld: this.lastOld, lastOfOldPerson: this.previousOfOld };
      this.held.push(press);
    } else {
      this.start.feed(press);
    }
    return null;
  }
}
