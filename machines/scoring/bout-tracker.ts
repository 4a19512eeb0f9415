import type { Fact } from '../facts.ts';
import type { Airway, CallLine, OpenLine } from '../journal.ts';
import type { InForce, Press } from '../presses.ts';
import { toMs, toUs, type Us } from '../units.ts';
import { type Arrangement, type ArrangementCall, arrange, isSameArrangement } from './arrangement.ts';
import type { Bout, Check, Handover, HandoverOutcome, Phase } from './bout.ts';
import { CycleBuilder } from './cycle-builder.ts';
import { ChangedRolesSearch, type Found, type HandoverSearch, SameSwitchSearch } from './handover-search.ts';
import { RowStore } from './row-store.ts';
import { StrayFilter } from './stray-filter.ts';

/** The first cycle start after a call: where a change without a gap is taken to have been made. */
type CycleStart = {
  press: Press;
  row: number;
  lastOld: Press;
  lastBreath: Press | null;
  firstBreath: Press | null;
};
type OpenHandover = {
  handover: Handover;
  called: Arrangement;
  search: HandoverSearch;
  firstStart: CycleStart | null;
};

/**
 * Sorts presses into bouts and cycles as calls and handovers say (design section 5).
 * Presses and calls come in order of lines; each costs constant time, and nothing given is revised.
 */
export class BoutTracker {
  phase: Phase = 'idle';
  readonly rows = new RowStore();
  readonly bouts: Bout[] = [];
  readonly handovers: Handover[] = [];
  readonly checks: Check[] = [];
  /** Presses scored in bouts, in complete cycles or not. */
  readonly scored = { compressions: 0, breaths: 0 };
  /** What is in force: for the running bout, or for the next. */
  arrangement: Arrangement;
  airway: Airway;
  /** Tempo and guidance, kept with every press. */
  inForce: InForce;
  private readonly cycles = new CycleBuilder(this.rows);
  private open: OpenHandover | null = null;
  private strays: StrayFilter | null = null;
  private hasStraySinceCompression = false;
  private readonly isPersonBinding: boolean;
  private readonly say: (fact: Fact) => void;

  constructor(open: OpenLine, say: (fact: Fact) => void) {
    this.arrangement = { roles: open.roles, technique: open.technique, stance: open.stance };
    this.airway = open.airway;
    this.inForce = { idealUs: toUs(open.cycleMs), guidance: open.guidance, guidanceCalls: 0 };
    this.isPersonBinding = open.binding === 'person';
    this.say = say;
  }

  /** T now. */
  get idealUs(): Us {
    return this.inForce.idealUs;
  }

  /** What was called and is not taken up yet, null when no handover is open. */
  get called(): Arrangement | null {
    return this.open?.called ?? null;
  }

  isCompression(press: Press): boolean {
    return this.isPersonBinding
      ? press.switch === this.arrangement.roles.compressor
      : press.switch === 'chest';
  }

  /** A line has come at `nowUs`: settles what time alone can settle. Before the line's own effect. */
  passTime(nowUs: Us): void {
    this.strays?.passTime(nowUs);
    if (this.open !== null) this.close(this.open.search.passTime(nowUs), nowUs);
    this.settle(nowUs);
  }

  /** A switch went down. */
  press(press: Press): void {
    if (this.phase === 'waiting' && this.isCompression(press)) {
      this.startBout(press, this.cycles.completedCount);
      this.place(press);
    } else if (this.phase === 'running') {
      if (this.strays !== null) this.strays.press(press);
      else this.place(press);
    }
  }

  /** A press that is no stray: the open handover's search places it, or it belongs to the running bout. */
  private place(press: Press): void {
    if (this.isCompression(press)) this.hasStraySinceCompression = false;
    if (this.open !== null) this.close(this.open.search.press(press), press.onUs);
    else this.feed(press);
  }

  /** A call; what is wrong with it when it is ignored, else null. */
  call(line: CallLine): string | null {
    const atUs = toUs(line.at);
    const ignored = this.takeCall(line, atUs);
    if (ignored === null) this.say({ type: 'call accepted', atMs: line.at, call: line });
    return ignored;
  }

  /** The journal has ended and every press is settled. */
  end(lastUs: Us): void {
    if (this.phase === 'running') this.endBout(lastUs, null);
    this.settle(Number.POSITIVE_INFINITY);
  }

  private takeCall(line: CallLine, atUs: Us): string | null {
    const { phase } = this;
    switch (line.call) {
      case 'begin':
        if (phase !== 'idle') return 'the drill had begun before';
        this.phase = 'waiting';
        return null;
      case 'swap':
      case 'technique':
      case 'stance':
        return this.change(line, atUs);
      case 'taken':
        this.strays?.release();
        if (this.open === null) return 'no handover was open';
        if (this.open.search instanceof ChangedRolesSearch)
          return 'each keeps a switch: the switches say who compresses';
        this.close(this.open.search.taken(atUs), atUs);
        return null;
      case 'guidance':
        if (line.guidance === this.inForce.guidance) return `guidance was ${line.guidance} before`;
        this.inForce = {
          ...this.inForce,
          guidance: line.guidance,
          guidanceCalls: this.inForce.guidanceCalls + 1,
        };
        return null;
      case 'tempo':
        if (toUs(line.cycleMs) === this.idealUs) return `the tempo was ${line.cycleMs} ms a cycle before`;
        this.inForce = { ...this.inForce, idealUs: toUs(line.cycleMs) };
        return null;
      case 'airway':
        if (line.airway === this.airway) return `the airway was ${line.airway} before`;
        this.airway = line.airway;
        return null;
      case 'check':
        if (phase === 'idle' || phase === 'finished' || phase === 'checking') return this.notNow('check');
        this.leaveRunning(atUs, 'checking');
        this.checks.push({
          calledUs: atUs,
          lastCompression: this.bouts.at(-1)?.lastCompression ?? null,
          nextBout: null,
        });
        return null;
      case 'checked':
        if (phase !== 'checking') return 'no check was going on';
        this.phase = 'waiting';
        return null;
      case 'rest':
        if (phase === 'idle' || phase === 'finished' || phase === 'resting') return this.notNow('rest');
        this.leaveRunning(atUs, 'resting');
        return null;
      case 'resume':
        if (phase !== 'resting') return 'no rest was going on';
        this.phase = 'waiting';
        return null;
      case 'finish':
        if (phase === 'finished') return this.notNow('finish');
        if (phase === 'running') this.endBout(atUs, null);
        this.phase = 'finished';
        return null;
      case 'undo':
        return 'there was nothing to take back';
      case 'heart-rate':
        return null;
    }
  }

  private notNow(call: string): string {
    return `${call} cannot follow while the drill is ${this.phase}`;
  }

  private change(line: ArrangementCall, atUs: Us): string | null {
    if (this.phase === 'finished') return this.notNow(line.call);
    this.strays?.release();
    const from = this.open?.called ?? this.arrangement;
    const called = arrange(from, line);
    if (isSameArrangement(from, called)) return 'it changed nothing';
    const bout = this.bouts.at(-1);
    if (this.phase !== 'running' || bout === undefined) {
      this.arrangement = called;
      return null;
    }
    this.open?.search.release();
    if (this.open === null) this.openHandover(line, atUs);
    else this.open.handover.reasons.push(line.call);
    const { open } = this;
    if (open === null) return null;
    open.called = called;
    if (isSameArrangement(called, this.arrangement)) {
      this.finishHandover('withdrawn', atUs);
    } else {
      open.search = this.searchFrom(atUs, bout, called);
      open.firstStart = null;
      if (open.search instanceof ChangedRolesSearch) this.strays = null;
    }
    return null;
  }

  private openHandover(line: ArrangementCall, atUs: Us): void {
    const handover: Handover = {
      reasons: [line.call],
      calledUs: atUs,
      outcome: null,
      lastOld: null,
      firstNew: null,
      oldBout: this.bouts.length - 1,
      newBout: null,
      strays: null,
    };
    this.handovers.push(handover);
    const bout = this.bouts.at(-1);
    if (bout === undefined) return;
    this.open = {
      handover,
      called: this.arrangement,
      search: this.searchFrom(atUs, bout, this.arrangement),
      firstStart: null,
    };
    this.say({ type: 'handover opened', atMs: toMs(atUs) });
  }

  private searchFrom(calledUs: Us, bout: Bout, called: Arrangement): HandoverSearch {
    const start = {
      calledUs,
      lastCompression: bout.lastCompression,
      isCompression: (press: Press) => this.isCompression(press),
      idealUs: () => this.idealUs,
      feed: (press: Press) => this.feed(press),
    };
    const changesRoles = called.roles.compressor !== this.arrangement.roles.compressor;
    if (!this.isPersonBinding || !changesRoles) return new SameSwitchSearch(start);
    const hasOtherPressed = this.cycles.lastBreath !== null || this.hasStraySinceCompression;
    return new ChangedRolesSearch({ ...start, hasOtherPressed });
  }

  /** Acts on what a search found. */
  private close(found: Found | null, atUs: Us): void {
    const { open } = this;
    if (found === null || open === null) return;
    if (found.outcome === 'never taken up') this.finishHandover('never taken up', atUs);
    else if (found.outcome === 'taken up') this.takeUp(open, found, atUs);
    else if (open.firstStart === null) this.finishHandover('never taken up', atUs);
    else this.splitWithoutGap(open, open.firstStart, atUs);
  }

  private takeUp(open: OpenHandover, found: Extract<Found, { outcome: 'taken up' }>, atUs: Us): void {
    const { handover } = open;
    const changedRoles = open.search instanceof ChangedRolesSearch;
    handover.lastOld = found.lastOld;
    handover.firstNew = found.firstNew;
    this.closeBout(found.firstNew.onUs);
    this.arrangement = open.called;
    this.startBout(found.firstNew, this.cycles.completedCount);
    handover.newBout = this.bouts.length - 1;
    if (changedRoles) {
      handover.strays = 0;
      this.hasStraySinceCompression = false;
      this.strays = new StrayFilter({
        lastOfOldPerson: found.lastOfOldPerson,
        isOfOld: (press) => press.switch === this.arrangement.roles.ventilator,
        idealUs: () => this.idealUs,
        feed: (press) => this.place(press),
        countStray: () => {
          handover.strays = (handover.strays ?? 0) + 1;
          this.hasStraySinceCompression = true;
        },
      });
    }
    this.finishHandover('taken up', atUs);
    this.feed(found.firstNew);
    for (const press of found.after) {
      if (changedRoles) this.strays?.press(press);
      else this.feed(press);
    }
  }

  /** Seamless: the bout is split at a cycle start that has been scored; the cycle before it is dropped. */
  private splitWithoutGap(open: OpenHandover, start: CycleStart, atUs: Us): void {
    const old = this.bouts.at(-1);
    if (old === undefined) return;
    const { lastCompression, lastBreath } = old;
    old.endUs = start.press.onUs;
    old.toRow = start.row - 1;
    old.lastCompression = start.lastOld;
    old.lastBreath = start.lastBreath;
    this.arrangement = open.called;
    open.handover.lastOld = start.lastOld;
    open.handover.firstNew = start.press;
    this.startBout(start.press, start.row);
    open.handover.newBout = this.bouts.length - 1;
    const bout = this.bouts.at(-1);
    if (bout !== undefined) {
      bout.firstBreath = start.firstBreath;
      bout.lastBreath = start.firstBreath === null ? null : lastBreath;
      bout.lastCompression = lastCompression;
    }
    this.finishHandover('seamless', atUs);
  }

  private finishHandover(outcome: HandoverOutcome, atUs: Us): void {
    if (this.open === null) return;
    this.open.search.release();
    this.open.handover.outcome = outcome;
    this.open = null;
    this.say({ type: 'handover closed', atMs: toMs(atUs), handover: this.handovers.length - 1, outcome });
  }

  private startBout(press: Press, fromRow: number): void {
    this.phase = 'running';
    this.bouts.push({
      ...this.arrangement,
      startUs: press.onUs,
      endUs: null,
      idealUs: press.inForce.idealUs,
      fromRow,
      toRow: Number.POSITIVE_INFINITY,
      firstBreath: null,
      lastBreath: null,
      lastCompression: press,
    });
    this.endChecks();
    this.say({ type: 'bout started', atMs: toMs(press.onUs), bout: this.bouts.length - 1 });
  }

  /** The checks since the bout before this one end with it. */
  private endChecks(): void {
    for (let index = this.checks.length - 1; index >= 0; index -= 1) {
      const check = this.checks[index];
      if (check === undefined || check.nextBout !== null) return;
      check.nextBout = this.bouts.length - 1;
    }
  }

  /** Rest or check: leaves the running bout, if there is one. */
  private leaveRunning(atUs: Us, phase: Phase): void {
    if (this.phase === 'running') this.endBout(atUs, atUs);
    this.phase = phase;
  }

  private endBout(atUs: Us, endUs: Us | null): void {
    this.strays?.release();
    this.strays = null;
    this.open?.search.release();
    if (this.open !== null) {
      this.arrangement = this.open.called;
      this.finishHandover('cut short', atUs);
    }
    this.closeBout(endUs, atUs);
  }

  private closeBout(endUs: Us | null, atUs: Us = endUs ?? 0): void {
    const bout = this.bouts.at(-1);
    if (bout === undefined) return;
    bout.endUs = endUs;
    bout.toRow = this.cycles.completedCount;
    this.cycles.endBout();
    this.say({ type: 'bout ended', atMs: toMs(atUs), bout: this.bouts.length - 1 });
  }

  /** Scores a press in the running bout. */
  private feed(press: Press): void {
    const bout = this.bouts.at(-1);
    if (bout === undefined) return;
    if (this.isCompression(press)) this.feedCompression(press, bout);
    else this.feedBreath(press, bout);
  }

  private feedCompression(press: Press, bout: Bout): void {
    this.scored.compressions += 1;
    const lastOld = bout.lastCompression;
    const startsCycle = this.cycles.compression(press);
    bout.lastCompression = press;
    if (startsCycle) {
      this.say({ type: 'cycle started', atMs: toMs(press.onUs) });
      if (this.open !== null) {
        this.open.firstStart ??= {
          press,
          row: this.cycles.completedCount,
          lastOld,
          lastBreath: bout.lastBreath,
          firstBreath: null,
        };
      }
    } else if (this.cycles.openCompressions === 4) {
      this.say({ type: 'breath missed', atMs: toMs(press.onUs) });
    }
  }

  private feedBreath(press: Press, bout: Bout): void {
    this.scored.breaths += 1;
    this.cycles.breath(press);
    bout.firstBreath ??= press;
    bout.lastBreath = press;
    const start = this.open?.firstStart;
    if (start) start.firstBreath ??= press;
  }

  private settle(nowUs: Us): void {
    const heldFromUs = Math.min(
      this.open?.search.heldFromUs ?? Number.POSITIVE_INFINITY,
      this.strays?.heldFromUs ?? Number.POSITIVE_INFINITY,
    );
    const before = this.rows.size;
    const moved = this.cycles.settle(nowUs, heldFromUs);
    for (let row = before; row < before + moved; row += 1) {
      this.say({ type: 'cycle completed', atMs: toMs(Math.min(nowUs, Number.MAX_SAFE_INTEGER)), row });
    }
  }
}
