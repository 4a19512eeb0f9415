import type { CallLine, TickLine } from '../journal.ts';
import { COMPRESS_BELOW_BPM } from '../pattern.ts';
import type { Press } from '../presses.ts';
import { toUs, type Us } from '../units.ts';
import type { Phase } from './bout.ts';

/** Breaths from one time to another, by their onsets. */
export type Breaths = { count: number; firstUs: Us; lastUs: Us };
/** A stretch without compressions after `checked`, with 60 or more as the last heart rate announced. */
export type BackToVentilation = { fromUs: Us; untilUs: Us | null; breaths: Breaths | null };
/** Who saw the chest rise, and when, with nothing against it since. */
export type ChestRise = { atUs: Us; by: TickLine['by'] };
export type HeartRate = { atUs: Us; bpm: number };

/** So many first breaths are kept whole: the inflations that one preset asks for. */
export const FIRST_BREATHS = 5;
const TRIPLET = 3;

/**
 * Follows a drill that begins with ventilation, line by line, and keeps what its figures need: constant time and space,
 * but for one entry for each stretch back to ventilation. Breaths during a rest are not counted; during a check they are.
 */
export class VentilationWatch {
  isWanted = false;
  /** The first breaths of the stage; their lengths are known once they are settled. */
  readonly firstBreaths: Press[] = [];
  breaths: Breaths | null = null;
  /** The breaths after the first five. */
  laterBreaths: Breaths | null = null;
  lastBreath: Press | null = null;
  chestRise: ChestRise | null = null;
  isChestUnmoved = false;
  firstCompressionUs: Us | null = null;
  /** The last heart rate announced before the first compression. */
  rateAtFirst: HeartRate | null = null;
  firstCheckUs: Us | null = null;
  /** Compressions after 60 or more was announced, without those that finished a triplet, and how long they went on, stretch by stretch. */
  readonly after60 = { isAnnounced: false, compressions: 0, us: 0 };
  readonly back: BackToVentilation[] = [];
  private rate: HeartRate | null = null;
  /** Since when 60 or more has been the last announced; null while it is not. */
  private sixtySinceUs: Us | null = null;
  /** Compressions since the last breath, and how many of the next are only the rest of a triplet. */
  private inTriplet = 0;
  private toFinish = 0;
  /** The first compression of the stretch that no check or rest has broken; null before it. */
  private runFromUs: Us | null = null;
  /** The last compression whose time `after60` has. */
  private countedUntilUs: Us = Number.NEGATIVE_INFINITY;

  /** A call that was accepted; `phase` is the one it led to. */
  call(line: CallLine, phase: Phase): void {
    const atUs = toUs(line.at);
    if (line.call === 'check' || line.call === 'checked' || line.call === 'rest') this.runFromUs = null;
    if (line.call === 'begin') this.isWanted = line.stage === 'ventilation';
    else if (line.call === 'heart-rate') this.announce({ atUs, bpm: line.bpm }, phase);
    else if (line.call === 'check' || line.call === 'rest') {
      this.inTriplet = 0;
      this.toFinish = 0;
      if (line.call === 'check' && this.firstCompressionUs !== null) this.firstCheckUs ??= atUs;
    } else if (line.call === 'checked') this.leaveCheck(atUs);
  }

  /** A tick on a rig that has ticks. */
  tick({ item, met, by, at }: TickLine): void {
    if (!this.isWanted || this.firstCompressionUs !== null || item !== 'chest-rise') return;
    if (met === true) this.chestRise ??= { atUs: toUs(at), by };
    else this.chestRise = null;
    this.isChestUnmoved = met === false;
  }

  /** A switch went down; `phase` is the one it came in. */
  press(press: Press, isCompression: boolean, phase: Phase): void {
    if (!this.isWanted) return;
    if (isCompression && (phase === 'waiting' || phase === 'running')) this.compression(press);
    else if (!isCompression && phase !== 'idle' && phase !== 'resting' && phase !== 'finished')
      this.breath(press);
  }

  private announce(rate: HeartRate, phase: Phase): void {
    this.rate = rate;
    if (rate.bpm < COMPRESS_BELOW_BPM) {
      this.sixtySinceUs = null;
      this.toFinish = 0;
    } else if (this.sixtySinceUs === null) {
      this.after60.isAnnounced = true;
      this.sixtySinceUs = rate.atUs;
      const made = this.inTriplet % TRIPLET;
      this.toFinish = phase === 'running' && made > 0 ? TRIPLET - made : 0;
    }
  }

  private leaveCheck(atUs: Us): void {
    const isBack = this.sixtySinceUs !== null && this.firstCompressionUs !== null;
    if (!this.isWanted || !isBack || this.openStretch !== null) return;
    this.back.push({ fromUs: atUs, untilUs: null, breaths: null });
  }

  private compression(press: Press): void {
    if (this.firstCompressionUs === null) {
      this.firstCompressionUs = press.onUs;
      this.rateAtFirst = this.rate;
    }
    const { openStretch } = this;
    if (openStretch !== null) openStretch.untilUs = press.onUs;
    this.inTriplet += 1;
    this.runFromUs ??= press.onUs;
    if (this.sixtySinceUs === null) return;
    if (this.toFinish > 0) {
      this.toFinish -= 1;
      return;
    }
    this.after60.compressions += 1;
    // Time in which they did not compress is none of it: a stretch that began later counts from its first.
    const fromUs = Math.max(this.sixtySinceUs, this.runFromUs, this.countedUntilUs);
    this.after60.us += Math.max(0, press.onUs - fromUs);
    this.countedUntilUs = press.onUs;
  }

  private breath(press: Press): void {
    this.inTriplet = 0;
    this.toFinish = 0;
    const { openStretch } = this;
    if (openStretch !== null) openStretch.breaths = withBreath(openStretch.breaths, press);
    if (this.firstCompressionUs !== null) return;
    if (this.firstBreaths.length < FIRST_BREATHS) this.firstBreaths.push(press);
    else this.laterBreaths = withBreath(this.laterBreaths, press);
    this.breaths = withBreath(this.breaths, press);
    this.lastBreath = press;
  }

  /** The last heart rate announced in the stage: before the first compression, or at all without one. */
  get lastRate(): HeartRate | null {
    return this.firstCompressionUs === null ? this.rate : this.rateAtFirst;
  }

  private get openStretch(): BackToVentilation | null {
    const last = this.back.at(-1);
    return last?.untilUs === null ? last : null;
  }
}

function withBreath(breaths: Breaths | null, { onUs }: Press): Breaths {
  return { count: (breaths?.count ?? 0) + 1, firstUs: breaths?.firstUs ?? onUs, lastUs: onUs };
}
