import type { CallLine, OpenLine, Switch } from '../../machines/journal.ts';
import type { NumberedLine } from '../../machines/journal-reader.ts';
import {
  type Arrangement,
  arrange,
  type HandoverReason,
  isSameArrangement,
} from '../../machines/scoring/arrangement.ts';
import type { HandoverOutcome } from '../../machines/scoring/bout.ts';
import {
  breathGap,
  candidatesFor,
  isChange,
  type OpenHandover,
  oldCompressions,
  openedAt,
  type ReferenceBout,
  type ReferenceHandover,
  type ReferenceScore,
  type StrayTime,
  straysIn,
} from './reference-handovers.ts';
import { ReferenceJournal, type ReferencePress, us } from './reference-journal.ts';
import { rowsOf, startsIn } from './reference-rows.ts';

type State = 'idle' | 'waiting' | 'running' | 'resting' | 'checking' | 'finished';

/**
 * A second scoring, written from design section 5 alone, to compare the fold with: whole journal at once,
 * every question answered by looking through all presses again, nothing held back. Times are whole microseconds.
 */
export function scoreByReference(open: OpenLine, numbered: readonly NumberedLine[]): ReferenceScore {
  return new ReferenceDrill(new ReferenceJournal(open, numbered)).score();
}

class ReferenceDrill {
  private readonly bouts: ReferenceBout[] = [];
  private readonly handovers: ReferenceHandover[] = [];
  private readonly checks: { calledUs: number; line: number }[] = [];
  private readonly strayTimes: (StrayTime & { entry: ReferenceHandover })[] = [];
  private readonly ignored: number[] = [];
  private state: State = 'idle';
  private arrangement: Arrangement;
  private handover: OpenHandover | null = null;
  private readonly journal: ReferenceJournal;

  constructor(journal: ReferenceJournal) {
    const { roles, technique, stance } = journal.open;
    this.journal = journal;
    this.arrangement = { roles, technique, stance };
  }

  score(): ReferenceScore {
    this.journal.lines.forEach((line, index) => {
      this.letTimePass(us(line.at), index);
      const press = this.journal.presses.find((candidate) => candidate.line === index);
      if (press !== undefined) this.takePress(press);
      else if (line.kind === 'call' && !this.takeCall(line, index))
        this.ignored.push(this.journal.numbers[index] ?? 0);
    });
    if (this.state === 'running') this.leaveBout(this.journal.lines.length, null);
    for (const time of this.strayTimes) time.entry.strays = straysIn(this.journal, time).length;
    for (const entry of this.handovers) {
      const [old, fresh] = this.bouts.slice((entry.newBout ?? 0) - 1, (entry.newBout ?? -1) + 1);
      entry.breathGapUs = breathGap(this.breathsOf(old), this.breathsOf(fresh));
    }
    const scored = this.bouts.flatMap((bout) => this.scoredIn(bout).map((press) => this.isDown(press, bout)));
    return {
      bouts: this.bouts.map((bout) => ({
        startUs: bout.startUs,
        endUs: bout.endUs ?? Math.max(...this.scoredIn(bout).map((press) => press.offUs)),
        arrangement: bout.arrangement,
        rows: rowsOf(this.journal, this.scoredIn(bout), this.compressorOf(bout.arrangement)),
      })),
      handovers: this.handovers,
      checks: this.checks.map(({ calledUs, line }) => ({ calledUs, pauseUs: this.checkPause(line) })),
      scored: {
        compressions: scored.filter(Boolean).length,
        breaths: scored.filter((isDown) => !isDown).length,
      },
      ignored: this.ignored,
    };
  }

  private compressorOf({ roles }: Arrangement): Switch {
    return this.journal.open.binding === 'place' ? 'chest' : roles.compressor;
  }
  private isDown(press: ReferencePress, bout: ReferenceBout): boolean {
    return press.switch === this.compressorOf(bout.arrangement);
  }

  private pressesIn(bout: ReferenceBout, upTo = Number.POSITIVE_INFINITY): ReferencePress[] {
    return this.journal.presses.filter(
      ({ line }) => line >= bout.fromLine && line < bout.toLine && line <= upTo,
    );
  }
  private scoredIn(bout: ReferenceBout): ReferencePress[] {
    const strays = this.strayTimes.flatMap((time) => straysIn(this.journal, time));
    return this.pressesIn(bout).filter((press) => !strays.includes(press));
  }

  private startBout(press: ReferencePress): void {
    this.state = 'running';
    this.bouts.push({
      fromLine: press.line,
      toLine: Number.POSITIVE_INFINITY,
      startUs: press.onUs,
      endUs: null,
      arrangement: this.arrangement,
    });
  }

  /** Rest, check, finish or the journal's end. */
  private leaveBout(line: number, endUs: number | null): void {
    const bout = this.bouts.at(-1);
    if (bout === undefined) return;
    bout.toLine = line;
    bout.endUs = endUs;
    for (const time of this.strayTimes) time.to = Math.min(time.to, line);
    if (this.handover === null) return;
    this.handover.entry.outcome = 'cut short';
    this.arrangement = this.handover.called;
    this.handover = null;
  }

  private takePress(press: ReferencePress): void {
    if (this.state === 'waiting' && press.switch === this.compressorOf(this.arrangement))
      this.startBout(press);
    else if (this.state === 'running') this.decide(press.line);
  }

  /** Is the open handover settled by the press at this line, or by `taken` called at it? */
  private decide(now: number): void {
    const { handover } = this;
    const bout = this.bouts.at(-1);
    if (handover === null || bout === undefined) return;
    if (this.changesRoles(handover)) this.decideChangedRoles(handover, bout, now);
    else this.decideSameSwitch(handover, bout, now);
  }

  private changesRoles({ called }: OpenHandover): boolean {
    return (
      this.journal.open.binding === 'person' && called.roles.compressor !== this.arrangement.roles.compressor
    );
  }

  private decideSameSwitch(handover: OpenHandover, bout: ReferenceBout, now: number): void {
    const compressions = this.pressesIn(bout, now).filter((press) => this.isDown(press, bout));
    const line = this.journal.lines[now];
    if (line?.kind === 'call') {
      const index = compressions.findIndex(
        (press) => press.line > handover.line && press.onUs >= us(line.at) - 300_000,
      );
      if (index === -1) handover.isTaken = true;
      else this.takeUp(handover, bout, 'taken up', compressions[index - 1], compressions[index]);
      return;
    }
    const after = compressions.at(-1);
    const before = compressions.at(-2);
    if (after?.line !== now || before === undefined) return;
    const isInWindow = before.onUs < handover.atUs + 10_000_000;
    const isGap = 100 * (after.onUs - before.onUs) > 65 * this.journal.idealAt(now);
    if (handover.isTaken || (isInWindow && isGap)) this.takeUp(handover, bout, 'taken up', before, after);
    else if (!isInWindow) {
      const scored = this.scoredIn(bout).filter(({ line }) => line <= now);
      const start = startsIn(scored, this.compressorOf(bout.arrangement)).find(
        (press) => press.line > handover.line,
      );
      if (start === undefined) this.endHandover(handover, 'never taken up');
      else this.takeUp(handover, bout, 'seamless', compressions[compressions.indexOf(start) - 1], start);
    }
  }

  private decideChangedRoles(handover: OpenHandover, bout: ReferenceBout, now: number): void {
    const by = this.arrangement.roles.compressor;
    const candidate = candidatesFor(this.journal, this.pressesIn(bout, now), by, handover).find((press) => {
      const next = this.journal.presses.find(
        ({ line, switch: name }) => name === press.switch && line > press.line,
      );
      return next !== undefined && next.line <= now && this.journal.isFollowed(press, next);
    });
    if (candidate === undefined) return;
    const lastOld = oldCompressions(this.journal, this.pressesIn(bout), by, handover.line).findLast(
      ({ line }) => line < candidate.line,
    );
    this.takeUp(handover, bout, 'taken up', lastOld, candidate);
    this.strayTimes.push({
      entry: handover.entry,
      by,
      from: candidate.line,
      to: Number.POSITIVE_INFINITY,
      settledAt: [],
    });
  }

  /** Only for changed roles does time alone settle anything: nobody came in 30 s. */
  private letTimePass(nowUs: number, now: number): void {
    const { handover } = this;
    const bout = this.bouts.at(-1);
    if (handover === null || bout === undefined || !this.changesRoles(handover)) return;
    const by = this.arrangement.roles.compressor;
    if (nowUs - this.journal.lateUs(by === 'A' ? 'B' : 'A') < handover.atUs + 30_000_000) return;
    const inBout = this.pressesIn(bout, now - 1);
    const last = inBout.findLast((press) => press.switch !== by);
    const isWaiting =
      last !== undefined &&
      candidatesFor(this.journal, inBout, by, handover).includes(last) &&
      this.journal.isFollowed(last, { line: now, onUs: nowUs });
    if (!isWaiting) this.endHandover(handover, 'never taken up');
  }

  private endHandover(handover: OpenHandover, outcome: HandoverOutcome): void {
    handover.entry.outcome = outcome;
    this.handover = null;
  }

  private takeUp(
    handover: OpenHandover,
    bout: ReferenceBout,
    outcome: HandoverOutcome,
    lastOld: ReferencePress | undefined,
    firstNew: ReferencePress | undefined,
  ): void {
    if (lastOld === undefined || firstNew === undefined) throw new Error(`${outcome} without its presses`);
    handover.entry.lastOldUs = lastOld.onUs;
    handover.entry.firstNewUs = firstNew.onUs;
    bout.toLine = firstNew.line;
    bout.endUs = firstNew.onUs;
    this.arrangement = handover.called;
    this.startBout(firstNew);
    handover.entry.newBout = this.bouts.length - 1;
    handover.entry.pauseUs = Math.max(0, firstNew.onUs - lastOld.offUs);
    this.endHandover(handover, outcome);
  }

  private change(line: Extract<CallLine, { call: HandoverReason }>, index: number): boolean {
    const from = this.handover?.called ?? this.arrangement;
    const called = arrange(from, line);
    if (this.state === 'finished' || isSameArrangement(from, called)) return false;
    if (this.state !== 'running') {
      this.arrangement = called;
      return true;
    }
    const entry = this.handover?.entry ?? openedAt(us(line.at));
    if (this.handover === null) this.handovers.push(entry);
    entry.reasons.push(line.call);
    this.handover = { entry, called, line: index, atUs: us(line.at), isTaken: false };
    if (this.changesRoles(this.handover))
      for (const time of this.strayTimes) time.to = Math.min(time.to, index);
    if (isSameArrangement(called, this.arrangement)) this.endHandover(this.handover, 'withdrawn');
    return true;
  }

  /** Takes a call; false when it is ignored. */
  private takeCall(line: CallLine, index: number): boolean {
    const { state } = this;
    const isLive = state === 'waiting' || state === 'running';
    if (isChange(line) || line.call === 'taken')
      for (const time of this.strayTimes) time.settledAt.push(index);
    if (isChange(line)) return this.change(line, index);
    if (line.call === 'begin') return this.go(state === 'idle', 'waiting');
    if (line.call === 'checked') return this.go(state === 'checking', 'waiting');
    if (line.call === 'resume') return this.go(state === 'resting', 'waiting');
    if (line.call === 'guidance') return line.guidance !== this.journal.guidanceAt(index);
    if (line.call === 'tempo') return us(line.cycleMs) !== this.journal.idealAt(index);
    if (line.call === 'heart-rate') return true;
    if (line.call === 'airway') return line.airway !== this.journal.airwayAt(index);
    if (line.call === 'taken') {
      if (this.handover === null || this.changesRoles(this.handover)) return false;
      this.decide(index);
      return true;
    }
    if (line.call === 'undo') return false;
    const next = line.call === 'rest' ? 'resting' : line.call === 'check' ? 'checking' : 'finished';
    const other = line.call === 'rest' ? 'checking' : 'resting';
    if (line.call === 'finish' ? state === 'finished' : !isLive && state !== other) return false;
    if (line.call === 'check') this.checks.push({ calledUs: us(line.at), line: index });
    if (state === 'running') this.leaveBout(index, line.call === 'finish' ? null : us(line.at));
    return this.go(true, next);
  }

  private breathsOf(bout: ReferenceBout | undefined): ReferencePress[] {
    return bout === undefined ? [] : this.scoredIn(bout).filter((press) => !this.isDown(press, bout));
  }

  private go(isAllowed: boolean, next: State): boolean {
    if (isAllowed) this.state = next;
    return isAllowed;
  }

  /** Next bout's first onset less the last compression's release. */
  private checkPause(line: number): number | null {
    const last = this.bouts
      .filter(({ fromLine }) => fromLine < line)
      .flatMap((bout) => this.scoredIn(bout).filter((press) => this.isDown(press, bout)))
      .findLast((press) => press.line < line);
    const next = this.bouts.find(({ fromLine }) => fromLine > line);
    return last === undefined || next === undefined ? null : Math.max(0, next.startUs - last.offUs);
  }
}
