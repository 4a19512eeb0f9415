import type { Person, Tolerance } from '../journal.ts';
import { CYCLE_MS } from '../pattern.ts';
import { median } from '../statistics/summary.ts';
import { type Ms, toMs, toUs, type Us } from '../units.ts';
import {
  type Carried,
  type Cause,
  type CycleContext,
  carriedFrom,
  causesOf,
  isOfTwoTriplets,
} from './advice-causes.ts';
import { type CycleRow, exactTiming } from './cycle-row.ts';
import { isGap } from './phrase.ts';
import type { BoutRow, DrillReport } from './report.ts';

/** A row that counts, its place in the drill's list of rows, when it starts, ms, and why it is not as it should be. */
export type JudgedRow = {
  bout: number;
  row: number;
  startMs: Ms;
  source: CycleRow;
  causes: readonly Cause[];
  /** The breath fell outside the compressor's gap: the row's own intervals and lag say nothing. */
  isOfTwoTriplets: boolean;
};

/** The rows of the drill's own rig that count. One that is left out is not judged, but the next one is what it is after it. */
export function judgedRows(report: DrillReport, rows: readonly BoutRow[]): JudgedRow[] {
  const { bouts, drill } = report;
  const tolerance: Tolerance = drill.tolerance;
  const beatOf = beatsOf(report, rows);
  const judged: JudgedRow[] = [];
  let carried: Carried | null = null;
  for (const [row, source] of rows.entries()) {
    const bout = bouts[source.bout];
    if (bout === undefined || bout.rig !== drill.rig) continue;
    if (rows[row - 1]?.bout !== source.bout) carried = null;
    const context: CycleContext = {
      carried,
      beatUs: beatOf(bout.roles.compressor, source.idealUs),
      tolerance,
    };
    carried = carriedFrom(source, context);
    if (source.isLeftOut) continue;
    judged.push({
      bout: source.bout,
      row,
      startMs: toMs(source.startUs),
      source,
      causes: causesOf(source, context),
      isOfTwoTriplets: isOfTwoTriplets(source, context),
    });
  }
  return judged;
}

/** Each compressor's own beat at a tempo, worked out once; a slowed one is not judged, so there it is the tempo's. */
function beatsOf({ bouts }: DrillReport, rows: readonly BoutRow[]): (compressor: Person, idealUs: Us) => Us {
  const beats = new Map<string, Us>();
  return (compressor, idealUs) => {
    const key = `${compressor} ${idealUs}`;
    const known = beats.get(key);
    if (known !== undefined) return known;
    const mine = rows.filter(
      (row) => !row.isLeftOut && bouts[row.bout]?.roles.compressor === compressor && row.idealUs === idealUs,
    );
    const beatUs = idealUs > toUs(CYCLE_MS) ? idealUs / 4 : ownBeat(mine, idealUs / 4);
    beats.set(key, beatUs);
    return beatUs;
  };
}

/** The median interval within triplets; one with a gap in it is no beat, unless all are so slow. */
function ownBeat(rows: readonly CycleRow[], idealUs: Us): Us {
  const intervals = rows.flatMap((row) => {
    const timing = exactTiming(row);
    return timing === null ? [] : [timing.firstIntervalUs, timing.secondIntervalUs];
  });
  return median(intervals.filter((us) => !isGap(us, idealUs))) ?? median(intervals) ?? idealUs;
}
