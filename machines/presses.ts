import { type Guidance, type OpenLine, type Switch, switchesOf } from './journal.ts';
import { toUs, type Us } from './units.ts';

/** What was in force when a switch went down. `guidanceCalls` counts the guidance calls before it. */
export type InForce = { readonly idealUs: Us; readonly guidance: Guidance; readonly guidanceCalls: number };

/** One switch going down and coming up again. `offUs` and `isMeasured` stand once `isSettled` is true. */
export type Press = {
  readonly switch: Switch;
  readonly onUs: Us;
  readonly inForce: InForce;
  /** What was taken out of its times: at `nowUs` of the lines its switch is known up to `nowUs − lateUs`. */
  readonly lateUs: Us;
  offUs: Us;
  /** False when the release was lost or never came: the press counts by its onset and has no length. */
  isMeasured: boolean;
  /** False while the switch is down, and until its release can no longer turn out to be bounce. */
  isSettled: boolean;
};

/**
 * How much later than the other switch this one tells a press: what is taken out of all its times. 0 unless the
 * journal has an offset that is applied; only the later switch's times are moved, so that calls stay where they are.
 */
export function lateUsOf({ binding, switchOffset }: OpenLine, name: Switch): Us {
  if (switchOffset?.applied !== true) return 0;
  const offsetUs = toUs(switchOffset.medianMs);
  const [first] = switchesOf(binding);
  return Math.max(0, name === first ? -offsetUs : offsetUs);
}

/**
 * Clean-up of one switch's edges: an edge that repeats the switch's state is dropped (auto-repeat);
 * a down sooner than `bounceUs` after the same switch's up is bounce, and both are dropped, so that the
 * press goes on. A release is therefore known only `bounceUs` after it happened. Times come in as the lines have
 * them, and `lateUs` is taken out of each.
 */
export class SwitchCleaner {
  private isDown = false;
  private press: Press | null = null;
  private release: { atUs: Us; isLost: boolean } | null = null;
  readonly dropped = { repeats: 0, bounces: 0 };
  private readonly name: Switch;
  private readonly bounceUs: Us;
  private readonly lateUs: Us;

  constructor(name: Switch, bounceUs: Us, lateUs: Us) {
    this.name = name;
    this.bounceUs = bounceUs;
    this.lateUs = lateUs;
  }

  /** Takes an edge and returns the press it begins, if it begins one. */
  edge(lineUs: Us, down: boolean, isLost: boolean, inForce: InForce): Press | null {
    const atUs = lineUs - this.lateUs;
    if (down === this.isDown) {
      this.dropped.repeats += 1;
      return null;
    }
    this.isDown = down;
    if (!down) {
      this.release = { atUs, isLost };
      return null;
    }
    if (this.release !== null && atUs - this.release.atUs < this.bounceUs) {
      this.release = null;
      this.dropped.bounces += 1;
      return null;
    }
    this.settle();
    this.press = {
      switch: this.name,
      onUs: atUs,
      inForce,
      lateUs: this.lateUs,
      offUs: atUs,
      isMeasured: false,
      isSettled: false,
    };
    return this.press;
  }

  /** Settles a release that can no longer be bounce; returns the press that has ended, if one has. */
  passTime(nowUs: Us): Press | null {
    if (this.release === null || nowUs - this.lateUs - this.release.atUs < this.bounceUs) return null;
    return this.settle();
  }

  /** The journal ends: a press still open ends at the last line's time and has no length. */
  end(lastUs: Us): Press | null {
    if (this.isDown) this.release = { atUs: lastUs - this.lateUs, isLost: true };
    return this.settle();
  }

  private settle(): Press | null {
    const { press, release } = this;
    if (press === null || release === null) return null;
    press.offUs = release.atUs;
    press.isMeasured = !release.isLost;
    press.isSettled = true;
    this.release = null;
    this.press = null;
    return press;
  }
}
