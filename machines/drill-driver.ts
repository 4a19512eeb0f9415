import { initialTransition, type SnapshotFrom, transition } from 'xstate';
import type { BeatTimeline } from './count/beat-timeline.ts';
import type { CallEvent, ChartEmitted, ChartEvent } from './drill-events.ts';
import { DrillFold } from './drill-fold.ts';
import { drillMachine } from './drill-machine.ts';
import type { Fact } from './facts.ts';
import { hintOf } from './hints.ts';
import type { CallLine, OpenLine } from './journal.ts';
import type { NumberedLine } from './journal-reader.ts';
import { replay } from './replay.ts';
import { isCoordinated } from './scoring/cycle-row.ts';
import { type BoutRow, boutRowsOf, type DrillReport, reportOf } from './scoring/report.ts';
import { withPlusMinus } from './scoring/report-plus-minus.ts';
import { type LiveVentilation, liveVentilationOf } from './scoring/ventilation-stage.ts';
import { type BoutTicks, ticksByBout } from './ticks.ts';
import { UndoResolver, withoutUndone } from './undo.ts';
import type { Ms } from './units.ts';

export type ChartSnapshot = SnapshotFrom<typeof drillMachine>;

/**
 * A live drill: lines go to the fold, its facts to the chart, and what the chart says comes back as data.
 * An undo folds the kept lines anew without what it takes back, so that it is as if neither line were there.
 */
export class DrillDriver {
  readonly open: OpenLine;
  private readonly kept: NumberedLine[] = [];
  private readonly undo = new UndoResolver();
  private fold: DrillFold;
  private chart: ChartSnapshot;

  constructor(open: OpenLine) {
    this.open = open;
    this.fold = new DrillFold(open);
    this.chart = startChart(open);
  }

  /** Takes lines as the host numbered them; returns what there is to say. */
  take(lines: readonly NumberedLine[]): ChartEmitted[] {
    const emitted: ChartEmitted[] = [];
    for (const line of lines) {
      this.kept.push(line);
      if (this.undo.take(line)) this.foldAnew();
      else this.feed(this.fold.take(line), emitted);
    }
    return emitted;
  }

  /** The clock moves on: the screen may change, never a figure. */
  tick(atMs: Ms): void {
    this.send({ type: 'clock ticked', atMs }, []);
  }

  get snapshot(): ChartSnapshot {
    return this.chart;
  }

  /** May this be called now? */
  canCall(line: CallLine): boolean {
    return this.chart.can(callEvent(line));
  }

  get lines(): readonly NumberedLine[] {
    return this.kept;
  }

  /** The beats that were given so far. */
  get beats(): BeatTimeline {
    return this.fold.beats;
  }

  /** How many complete cycles there are so far; cheap to ask after every line. */
  get cycleCount(): number {
    return this.fold.tracker.book.rows.size;
  }

  /** The number of the bout that runs, from 1; null while none does. */
  get runningBout(): number | null {
    return this.chart.matches({ stage: 'compressing' }) ? this.fold.tracker.book.bouts.length : null;
  }

  /** What was ticked in the latest bout; before the first, all that was ticked so far. */
  get latestTicks(): BoutTicks {
    const { ticks, tracker } = this.fold;
    const starts = tracker.book.bouts.map(({ startUs }) => startUs);
    return ticksByBout(ticks, starts.length === 0 ? [0] : starts).at(-1) ?? {};
  }

  /** The ventilation before compressions as it stands, to be shown; null in a drill that did not begin with it. */
  get ventilation(): LiveVentilation | null {
    const { ventilation: watch } = this.fold;
    return watch.isWanted ? liveVentilationOf(watch) : null;
  }

  /** Has anybody compressed yet? */
  get hasBout(): boolean {
    return this.fold.tracker.book.bouts.length > 0;
  }

  /** The complete cycles so far in their bouts, in order. */
  rows(): BoutRow[] {
    return boutRowsOf(this.fold);
  }

  /** The report as if the journal ended here, without ±: asked for after every cycle. */
  report(): DrillReport {
    return reportOf(replay(this.open, this.kept));
  }

  /** Ends the drill's own fold and reports from it, with ±; only after the close line. */
  endAndReport(): DrillReport {
    this.feed(this.fold.end(), []);
    return withPlusMinus(reportOf(this.fold), this.fold);
  }

  private feed(facts: readonly Fact[], emitted: ChartEmitted[]): void {
    for (const fact of facts) for (const event of this.eventsOf(fact)) this.send(event, emitted);
  }

  private eventsOf(fact: Fact): ChartEvent[] {
    if (fact.type === 'call accepted') return [callEvent(fact.call)];
    if (fact.type !== 'cycle completed') return [fact];
    const row = this.fold.tracker.book.rows.get(fact.row);
    const completed: ChartEvent = {
      type: fact.type,
      atMs: fact.atMs,
      shows: hintOf(row, this.open.tolerance),
      isCoordinated: isCoordinated(row, this.open.tolerance),
    };
    return row.clash.count === 0 ? [completed] : [{ type: 'clash began', atMs: fact.atMs }, completed];
  }

  private send(event: ChartEvent, emitted: ChartEmitted[]): void {
    const [next, actions] = transition(drillMachine, this.chart, event);
    this.chart = next;
    for (const action of actions) if (isEmit(action)) emitted.push(action.params.event);
  }

  private foldAnew(): void {
    this.fold = new DrillFold(this.open);
    this.chart = startChart(this.open);
    for (const line of withoutUndone(this.kept)) this.feed(this.fold.take(line), []);
  }
}

function startChart(open: OpenLine): ChartSnapshot {
  return initialTransition(drillMachine, open)[0];
}

/** XState's own name for what `emit` leaves among the actions; its types list only named actions. */
function isEmit(action: {
  type: string;
  params: unknown;
}): action is { type: string; params: { event: ChartEmitted } } {
  return action.type === 'xstate.emit';
}

/** A call line as the chart's event. */
export function callEvent(line: CallLine): CallEvent {
  return { type: `call.${line.call}`, atMs: line.at, line } as CallEvent;
}
