import { BeatTimeline } from './count/beat-timeline.ts';
import type { Fact } from './facts.ts';
import {
  type CountLine,
  type EdgeLine,
  type OpenLine,
  type Switch,
  switchesOf,
  type TickLine,
} from './journal.ts';
import type { NumberedLine } from './journal-reader.ts';
import { lateUsOf, type Press, SwitchCleaner } from './presses.ts';
import { isRemark, type RemarkLine, Remarks } from './remarks.ts';
import { BoutTracker } from './scoring/bout-tracker.ts';
import { VentilationWatch } from './scoring/ventilation-watch.ts';
import { toMs, toUs, type Us } from './units.ts';

/**
 * Folds a drill's lines, one by one, into bouts, handovers, checks and rows. Time comes in with the lines,
 * so a live drill and its replay give the same. An `undo` that takes something back is not for the fold:
 * lines come here with undone ones left out (undo.ts).
 */
export class DrillFold {
  readonly open: OpenLine;
  readonly tracker: BoutTracker;
  readonly beats = new BeatTimeline();
  readonly ventilation = new VentilationWatch();
  /** On a manikin rig; a rhythm rig has nothing to tick (design section 1). */
  readonly ticks: TickLine[] = [];
  /** What the instructor said of it, most often when it was over. */
  readonly remarks = new Remarks();
  readonly warnings: string[] = [];
  lastUs: Us = 0;
  isClosed = false;
  hasBegun = false;
  private readonly cleaners: ReadonlyMap<Switch, SwitchCleaner>;
  private facts: Fact[] = [];

  constructor(open: OpenLine) {
    this.open = open;
    this.tracker = new BoutTracker(open, (fact) => this.facts.push(fact));
    const bounceUs = toUs(open.bounceMs);
    this.cleaners = new Map(
      switchesOf(open.binding).map((name) => [name, new SwitchCleaner(name, bounceUs, lateUsOf(open, name))]),
    );
  }

  /** Takes the next line; returns the facts that became known with it. */
  take({ number, line }: NumberedLine): readonly Fact[] {
    this.facts = [];
    if (line.kind === 'unknown') return this.facts;
    if (isRemark(line)) this.takeRemark(number, line);
    if (isRemark(line) || this.isClosed) return this.facts;
    this.lastUs = toUs(line.at);
    this.passTime(this.lastUs);
    if (line.kind === 'edge') this.takeEdge(line);
    else if (line.kind === 'count') this.takeCount(line);
    else if (line.kind === 'call') {
      const ignored = this.tracker.call(line);
      if (ignored !== null) this.warnings.push(`line ${number}: ${line.call} was ignored: ${ignored}`);
      else {
        this.ventilation.call(line, this.tracker.phase);
        this.hasBegun ||= line.call === 'begin';
      }
    } else if (line.kind === 'tick') this.takeTick(line);
    else if (line.kind === 'close') this.isClosed = true;
    return this.facts;
  }

  /** The journal has ended: presses still open end at the last line's time. Call once. */
  end(): readonly Fact[] {
    this.facts = [];
    for (const cleaner of this.cleaners.values()) this.sayEnded(cleaner.end(this.lastUs));
    this.tracker.end(this.lastUs);
    return this.facts;
  }

  /** Edges that clean-up dropped: repeats of a state, and bounces (two edges each). */
  get dropped(): { repeats: number; bounces: number } {
    const total = { repeats: 0, bounces: 0 };
    for (const { dropped } of this.cleaners.values()) {
      total.repeats += dropped.repeats;
      total.bounces += dropped.bounces;
    }
    return total;
  }

  /** Its time is no time of the drill's: it moves nothing on. */
  private takeRemark(number: number, line: RemarkLine): void {
    const isUnsound = line.kind === 'signature' && this.open.rig === 'rhythm';
    if (isUnsound)
      this.warnings.push(`line ${number}: signature was ignored: no sign-off rests on a rhythm rig`);
    else this.remarks.take(number, line);
  }

  private takeTick(line: TickLine): void {
    if (this.open.rig !== 'manikin') return;
    this.ticks.push(line);
    this.ventilation.tick(line);
  }

  private passTime(nowUs: Us): void {
    for (const cleaner of this.cleaners.values()) this.sayEnded(cleaner.passTime(nowUs));
    this.tracker.passTime(nowUs);
  }

  private takeEdge(line: EdgeLine): void {
    const cleaner = this.cleaners.get(line.switch);
    const press = cleaner?.edge(this.lastUs, line.down, line.lost === true, this.tracker.inForce);
    if (!press) return;
    const isCompression = this.tracker.isCompression(press);
    this.facts.push({ type: isCompression ? 'compression began' : 'breath began', atMs: toMs(press.onUs) });
    this.ventilation.press(press, isCompression, this.tracker.phase);
    this.tracker.press(press);
  }

  private takeCount(line: CountLine): void {
    this.beats.take(line);
    const { current } = this.beats;
    if (line.what === 'stopped' || current === null) return;
    const { fromUs, cycleUs } = current;
    this.facts.push({
      type: 'count given',
      atMs: toMs(this.lastUs),
      fromMs: toMs(fromUs),
      cycleMs: toMs(cycleUs),
    });
  }

  private sayEnded(press: Press | null): void {
    if (press === null) return;
    const isCompression = this.tracker.isCompression(press);
    this.facts.push({ type: isCompression ? 'compression ended' : 'breath ended', atMs: toMs(press.offUs) });
  }
}
