import type { Fact } from '../facts.ts';
import { type Airway, type CallLine, type OpenLine, switchesOf } from '../journal.ts';
import { type InForce, lateUsOf, type Press } from '../presses.ts';
import { toMs, toUs, type Us } from '../units.ts';
import { type Arrangement, type ArrangementCall, arrange, isSameArrangement } from './arrangement.ts';
import type { Bout, Check, Handover, HandoverOutcome, Phase } from './bout.ts';
import { BoutBook, type CycleStart } from './bout-book.ts';
import { ChangedRolesSearch, type Found, type HandoverSearch, SameSwitchSearch } from './handover-search.ts';
import { StrayFilter } from './stray-filter.ts';

type OpenHandover = {
  handover: Handover;
  called: Arrangement;
  search: HandoverSearch;
  /** The first cycle start after the call: where a change without a gap is taken to have been made. */
  firstStart: CycleStart | null;
};

/**
 * Sorts presses into bouts and cycles as calls and handovers say (design section 5).
 * Presses and calls come in order of lines; each costs constant time, and nothing given is revised.
 */
export class BoutTracker {
  phase: Phase = 'idle';
  readonly handovers: Handover[] = [];
  readonly checks: Check[] = [];
  /** What is in force: for the running bout, or for the next. */
  arrangement: Arrangement;
  airway: Airway;
  /** The airway calls that changed it, in order. */
  readonly airwayCalls: { readonly atUs: Us; readonly airway: Airway }[] = [];
  /** Tempo and guidance, kept with every press. */
  inForce: InForce;
  readonly book: BoutBook;
  private open: OpenHandover | null = null;
  private strays: StrayFilter | null = null;
  private hasStraySinceCompression = false;
  private readonly isPersonBinding: boolean;
  /** Lines' times are ahead of the presses' by at most this. */
  private readonly mostLateUs: Us;
  private readonly openLine: OpenLine;
  private readonly say: (fact: Fact) => void;

  constructor(open: OpenLine, say: (fact: Fact) => void) {
    this.arrangement = { roles: open.roles, technique: open.technique, stance: open.stance };
    this.airway = open.airway;
    this.inForce = { idealUs: toUs(open.cycleMs), guidance: open.guidance, guidanceCalls: 0 };
    this.isPersonBinding = open.binding === 'person';
    this.openLine = open;
    this.mostLateUs = Math.max(...switchesOf(open.binding).map((name) => lateUsOf(open, name)));
    this.say = say;
    this.book = new BoutBook(say);
  }

  /** T now. */
  get idealUs(): Us {
    return this.inForce.idealUs;
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
      this.startBout(press);
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
        this.airwayCalls.push({ atUs, airway: line.airway });
        return null;
      case 'check':
        if (phase === 'idle' || phase === 'finished' || phase === 'checking') return this.notNow('check');
        this.leaveRunning(atUs, 'checking');
        this.checks.push({
          calledUs: atUs,
          lastCompression: this.book.bouts.at(-1)?.lastCompression ?? null,
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
    const bout = this.book.bouts.at(-1);
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
      oldBout: this.book.lastIndex,
      newBout: null,
      strays: null,
    };
    this.handovers.push(handover);
    const bout = this.book.bouts.at(-1);
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
    const hasOtherPressed = this.book.hasBreathSinceCompression || this.hasStraySinceCompression;
    const newLateUs = lateUsOf(this.openLine, called.roles.compressor);
    return new ChangedRolesSearch({ ...start, hasOtherPressed, newLateUs });
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
    this.book.close(found.firstNew.onUs, found.firstNew.onUs);
    this.arrangement = open.called;
    this.startBout(found.firstNew);
    handover.newBout = this.book.lastIndex;
    if (changedRoles) {
      handover.strays = 0;
      this.hasStraySinceCompression = false;
      this.strays = new StrayFilter({
        lastOfOldPerson: found.lastOfOldPerson,
        isOfOld: (press) => press.switch === this.arrangement.roles.ventilator,
        idealUs: () => this.idealUs,
        feed: (press) => this.place(press),
        countStray: (press) => {
          handover.strays = (handover.strays ?? 0) + 1;
          this.say({ type: 'stray counted', atMs: toMs(press.onUs), count: handover.strays });
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

  /** Seamless: when it was made is a guess, and said so. */
  private splitWithoutGap(open: OpenHandover, start: CycleStart, atUs: Us): void {
    this.arrangement = open.called;
    open.handover.lastOld = start.lastOld;
    open.handover.firstNew = start.press;
    this.book.splitAt(start, open.called);
    open.handover.newBout = this.book.lastIndex;
    this.finishHandover('seamless', atUs);
  }

  private finishHandover(outcome: HandoverOutcome, atUs: Us): void {
    if (this.open === null) return;
    this.open.search.release();
    this.open.handover.outcome = outcome;
    this.open = null;
    this.say({ type: 'handover closed', atMs: toMs(atUs), handover: this.handovers.length - 1, outcome });
  }

  private startBout(press: Press): void {
    this.phase = 'running';
    this.book.start(this.arrangement, press);
    this.endChecks();
  }

  /** The checks since the bout before this one end with it. */
  private endChecks(): void {
    for (let index = this.checks.length - 1; index >= 0; index -= 1) {
      const check = this.checks[index];
      if (check === undefined || check.nextBout !== null) return;
      check.nextBout = this.book.lastIndex;
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
    this.book.close(endUs, atUs);
  }

  /** Scores a press in the running bout. */
  private feed(press: Press): void {
    const { open } = this;
    if (this.isCompression(press)) {
      const start = this.book.compression(press);
      if (start !== null && open !== null) open.firstStart ??= start;
    } else {
      this.book.breath(press);
      if (open?.firstStart) open.firstStart.firstBreath ??= press;
    }
  }

  private settle(nowUs: Us): void {
    const heldFromUs = Math.min(
      this.open?.search.heldFromUs ?? Number.POSITIVE_INFINITY,
      this.strays?.heldFromUs ?? Number.POSITIVE_INFINITY,
    );
    this.book.settle(nowUs, Math.min(nowUs, heldFromUs) - this.mostLateUs);
  }
}
